// Writes sun.csv. Copy this file to an empty folder, and there:
//   npm install astronomy-engine@2.1.19
//   node make-fixtures.mjs <this folder>
// Times come from astronomy-engine (MIT), a full ephemeris tested by its author against NOVAS and JPL: crossings of
// -50', -6 and -12 degrees by the sun's geometric centre, and its own sunrise (upper limb, true semidiameter).
import * as A from "astronomy-engine";
import fs from "node:fs";
import path from "node:path";

const rows = ["latitude,longitude,noon_s,kind,seconds_since_2000_or_state,azimuth_deg"];
const seconds = (date) => ((date.getTime() - Date.UTC(2000, 0, 1)) / 1000).toFixed(1);
const latitudes = [0, 12, -25, 35, -42, 50, 56, -60, 60, 64, 66, 70, -75, 78];
for (let i = 0; i < 24; i++) {
  // 24 dates, one a year from 2026 to 2049 and the last in 2050, through all months.
  const day = i === 23 ? new Date(Date.UTC(2050, 10, 19)) : new Date(Date.UTC(2026 + i, (i * 5) % 12, 1 + (i * 11) % 28));
  for (const [k, latitude] of latitudes.entries()) {
    const longitude = ((i * 67 + k * 41) % 360) - 180;
    const place = new A.Observer(latitude, longitude, 0);
    const noon = A.SearchHourAngle(A.Body.Sun, place, 0, new Date(day.getTime() - longitude * 240000 + 21600000)).time;
    const before = A.SearchHourAngle(A.Body.Sun, place, 12, noon.AddDays(-0.6)).time;
    const after = A.SearchHourAngle(A.Body.Sun, place, 12, noon).time;
    const altitude = (t) => {
      const e = A.Equator(A.Body.Sun, t, place, true, true);
      return A.Horizon(t, place, e.ra, e.dec);
    };
    for (const [name, limit] of [["rise", -50 / 60], ["civil", -6], ["nautical", -12]]) {
      for (const [side, direction, from, to] of [["dawn", 1, before, noon], ["dusk", -1, noon, after]]) {
        const found = A.SearchAltitude(A.Body.Sun, place, direction, from, to.ut - from.ut, limit);
        const dark = direction === 1 ? before : after;
        const state = found ? seconds(found.date) : altitude(dark).altitude > limit ? "above" : "below";
        rows.push([latitude, longitude, seconds(noon.date), name + "-" + side, state, found ? altitude(found).azimuth.toFixed(3) : ""].join(","));
      }
    }
    if (Math.abs(latitude) <= 60) {
      const limb = A.SearchRiseSet(A.Body.Sun, place, 1, before, 1);
      rows.push([latitude, longitude, seconds(noon.date), "limb-dawn", limb ? seconds(limb.date) : "none", ""].join(","));
    }
  }
}
fs.writeFileSync(path.join(process.argv[2], "sun.csv"), rows.join("\n") + "\n");
