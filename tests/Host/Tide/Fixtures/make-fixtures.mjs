// Writes the tide fixtures beside this file. Copy it to an empty folder, and there:
//   npm install @neaps/tide-predictor@0.11.0 @neaps/tide-database@0.10.20260924
//   node make-fixtures.mjs <this folder>
// Harmonic constants and datums: US National Oceanic and Atmospheric Administration (NOAA), public domain, as carried by
// @neaps/tide-database. Heights and turns: @neaps/tide-predictor with Schureman's node factors, M1 and M3 left out (see
// TideReferenceTests). Official high and low waters: NOAA CO-OPS predictions as quoted in the public repository of that
// predictor, openwatersio/neaps: fixtures/realworld-friday-harbor.json, fixtures/realworld-subordinates.json and
// packages/tide-predictor/test/station.test.ts.
import { createTidePredictor } from "@neaps/tide-predictor";
import { stationsById } from "@neaps/tide-database";
import fs from "node:fs";
import path from "node:path";

const out = process.argv[2];

// Semidiurnal, mixed mainly semidiurnal, mixed mainly diurnal and diurnal; 5.8 m to 0.3 m of range; two stations where
// every constituent carries energy from shallow water; one near 64 degrees north.
const ten = ["8410140", "8443970", "8545240", "8658120", "9414290", "9447130", "9449880", "1612340", "9468756", "8729840"];
const references = ["9710441", "8724580"];
const seconds = (ms) => Math.round((ms - Date.UTC(2000, 0, 1)) / 1000);

const constants = [], heights = [], turns = [];
for (const id of [...ten, ...references]) {
  const s = stationsById.get("noaa/" + id);
  const msl = s.datums.MSL - s.datums.MLLW;
  const list = s.harmonic_constituents.slice(0, 37).map((c) => ({ name: c.name, amplitude: +c.amplitude.toFixed(3), phase: +c.phase.toFixed(1) }));
  constants.push(`${id},${s.name.replaceAll(",", "")},${s.latitude.toFixed(4)},${s.longitude.toFixed(4)},${msl.toFixed(3)},`
    + list.map((c) => `${c.name}:${c.amplitude}:${c.phase}`).join(" "));
  if (!ten.includes(id)) continue;
  const p = createTidePredictor(list.filter((c) => c.name !== "M1" && c.name !== "M3"), { nodeCorrections: "schureman" });
  // 200 heights, about 18.3 days apart, on whole ten minutes, the grid of the predictor.
  for (let n = 0; n < 200; n++) {
    const t = Date.UTC(2026, 0, 1) + Math.round(n * 18.2613 * 144) * 600000;
    heights.push(`${id},${seconds(t)},${p.getWaterLevelAtTime({ time: new Date(t) }).level.toFixed(4)}`);
  }
  // Eight spells of four days.
  for (let n = 0; n < 8; n++) {
    const t = Date.UTC(2026, 1, 3) + n * 451 * 86400000;
    for (const e of p.getExtremesPrediction({ start: new Date(t), end: new Date(t + 4 * 86400000) }))
      turns.push(`${id},${seconds(e.time.getTime())},${e.level.toFixed(4)},${e.high ? "H" : "L"}`);
  }
}
fs.writeFileSync(path.join(out, "stations.csv"), "station,name,latitude,longitude,msl_above_mllw_m,constants\n" + constants.join("\n") + "\n");
fs.writeFileSync(path.join(out, "heights.csv"), "station,seconds_since_2000,height_above_msl_m\n" + heights.join("\n") + "\n");
fs.writeFileSync(path.join(out, "turns.csv"), "station,seconds_since_2000,height_above_msl_m,kind\n" + turns.join("\n") + "\n");

// Official: station, reference, time UTC, height above MLLW in m, kind, minutes and height correction of the station.
const official = `FRIDAY,9449880,0,none,0
2026-07-15T02:52 2.568 H|2026-07-15T06:58 2.128 L|2026-07-15T10:47 2.353 H|2026-07-15T19:02 -0.891 L|2026-07-16T03:24 2.551 H|2026-07-16T08:07 1.925 L|2026-07-16T11:55 2.163 H|2026-07-16T19:48 -0.682 L|2026-07-17T03:55 2.519 H|2026-07-17T09:15 1.66 L|2026-07-17T13:09 1.926 H|2026-07-17T20:30 -0.373 L
NURSE,9710441,0/10,ratio,0.79/1.11
2026-07-15T00:52 0.914 H|2026-07-15T07:27 -0.054 L|2026-07-15T13:13 0.713 H|2026-07-15T19:26 -0.106 L|2026-07-16T01:43 0.903 H|2026-07-16T08:17 -0.061 L|2026-07-16T14:08 0.732 H|2026-07-16T20:20 -0.07 L|2026-07-17T02:33 0.87 H|2026-07-17T09:06 -0.052 L|2026-07-17T15:01 0.739 H|2026-07-17T21:15 -0.015 L
KAMALO,1612340,-37/-16,fixed,0.03/0
2026-07-15T02:01 0.841 H|2026-07-15T09:37 0.022 L|2026-07-15T14:07 0.273 H|2026-07-15T19:43 -0.041 L|2026-07-16T02:42 0.804 H|2026-07-16T10:13 0.018 L|2026-07-16T15:03 0.307 H|2026-07-16T20:34 0.013 L|2026-07-17T03:21 0.744 H|2026-07-17T10:47 0.019 L|2026-07-17T16:01 0.345 H|2026-07-17T21:28 0.083 L
CONTENT,8724580,166/229,ratio,2.13/1.83
2025-12-17T02:55 1.128 H|2025-12-17T10:57 -0.044 L|2025-12-17T16:48 0.658 H|2025-12-17T22:04 0.337 L|2025-12-18T03:33 1.148 H|2025-12-18T11:35 -0.099 L|2025-12-18T17:25 0.64 H|2025-12-18T22:40 0.316 L`.split("\n");
const rows = [];
for (let i = 0; i < official.length; i += 2) {
  const [name, ref, minutes, how, by] = official[i].split(",");
  const pick = (text, high) => { const p = text.split("/"); return high ? p[0] : p[p.length - 1]; };
  for (const e of official[i + 1].split("|")) {
    const [t, v, kind] = e.split(" ");
    rows.push([name, ref, seconds(Date.parse(t + "Z")), v, kind, pick(minutes, kind === "H"), how, pick(by, kind === "H")].join(","));
  }
}
fs.writeFileSync(path.join(out, "official.csv"), "station,reference,seconds_since_2000,height_above_mllw_m,kind,minutes_after_reference,height_rule,height_by\n" + rows.join("\n") + "\n");
