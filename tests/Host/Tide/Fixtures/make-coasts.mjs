// Writes coasts.csv, list.csv and coast-heights.csv beside this file. Copy it to an empty folder, and there:
//   npm install @neaps/tide-predictor@0.11.0 @neaps/tide-database@0.10.20260924
//   node make-coasts.mjs <this folder>
// Constants of ten coasts, as carried by @neaps/tide-database: NOAA stations (public domain) and TICON-4 (Hart-Davis and
// others, CC BY 4.0, from public records of tide gauges), rounded to 0.1 mm and 0.01 degrees. They serve these tests alone.
// list.csv: speed, argument and node factors of each name of the standard list of the International Hydrographic
// Organization's tidal committee, as carried by @neaps/tide-predictor (MIT), the members of a compound tide worked out by it.
// 3N2 is the third-degree tide beside N2 (Ray 2020); the predictor takes the name for MKS2, so it is given by hand and left out
// of the heights.
// M3 has no half turn here: the list has one, Schureman and the official US tables have none (see TideReferenceTests).
// coast-heights.csv: heights by that predictor with the committee's node factors; M1 and M3 are left out (see
// TideReferenceTests for its faults in them).
import { createTidePredictor, constituents } from "@neaps/tide-predictor";
import { stationsById } from "@neaps/tide-database";
import fs from "node:fs";
import path from "node:path";

const out = process.argv[2];
const coasts = ["ticon/newlyn-new-gbr-bodc", "noaa/8443970", "ticon/saint_john-65-can-meds", "ticon/avonmouth-avo-gbr-bodc", "noaa/9414290",
  "noaa/8545240", "ticon/darwin-63230-aus-bom", "ticon/le_havre-4-fra-refmar", "ticon/weymouth-wey-gbr-bodc", "ticon/southampton-sou-gbr-da_idh"];
const roots = ["Mm", "Mf", "O1", "K1", "J1", "OO1", "M2", "K2", "L2", "M1", "M3"];

const rows = [], heights = [];
for (const id of coasts) {
  const s = stationsById.get(id);
  const list = s.harmonic_constituents.map((c) => ({ name: c.name, amplitude: +c.amplitude.toFixed(4), phase: +c.phase.toFixed(2) })).filter((c) => c.amplitude > 0);
  rows.push([id, s.name.split(" (")[0], s.latitude.toFixed(4), s.longitude.toFixed(4), list.map((c) => `${c.name}:${c.amplitude}:${c.phase}`).join(" ")].join(","));
  const p = createTidePredictor(list.filter((c) => !["M1", "M3", "3N2"].includes(c.name)), { nodeCorrections: "iho" });
  for (let n = 0; n < 40; n++) {
    const t = Date.UTC(2026, 0, 1) + Math.round(n * 18.2613 * 144) * 600000;
    heights.push(`${id},${Math.round((t - Date.UTC(2000, 0, 1)) / 1000)},${p.getWaterLevelAtTime({ time: new Date(t) }).level.toFixed(4)}`);
  }
}

const nodes = (c) => {
  const of = {};
  const walk = (x, factor) => {
    if (roots.includes(x.name)) {
      const e = (of[x.name] ??= [0, 0]);
      e[0] += Math.abs(factor);
      e[1] += factor;
    } else for (const m of x.members) walk(m.constituent, factor * m.factor);
  };
  walk(c, 1);
  return Object.entries(of).map(([k, [f, u]]) => `${k}:${f}:${u}`).join(" ");
};
// A compound tide's argument is the sum of its members' where the list prints none.
const argument = (c) => c.coefficients ?? c.members.reduce((sum, m) => argument(m.constituent).map((x, i) => sum[i] + x * m.factor), [0, 0, 0, 0, 0, 0, 0]);
const seen = new Set(), list = [];
for (const c of Object.values(constituents)) {
  if (seen.has(c) || c.name === "Zo") continue;
  seen.add(c);
  const a = [...argument(c)];
  if (c.name === "M3") a[6] = 0;
  list.push([c.name, c.aliases.filter((a) => a !== "3N2").join(" "), c.speed, ...a, nodes(c)].join(","));
}
list.push(["3N2", "", 28.4350877, 2, -1, 0, 0, 0, 0, 0, "M2:1:1"].join(","));
fs.writeFileSync(path.join(out, "coasts.csv"), "id,name,latitude,longitude,constants\n" + rows.join("\n") + "\n");
fs.writeFileSync(path.join(out, "list.csv"), "name,aliases,degrees_per_hour,tau,s,h,p,minus_n,p1,quarters,node_f_and_u\n" + list.join("\n") + "\n");
fs.writeFileSync(path.join(out, "coast-heights.csv"), "id,seconds_since_2000,height_above_mean_m\n" + heights.join("\n") + "\n");

// neighbours.csv: ports some 2 to 60 km from a coast; Darwin has none in the collection, and Boston's are in the same harbour.
const beside = [["ticon/newlyn-new-gbr-bodc", "ticon/st_marys-stm-gbr-da_idh"], ["ticon/saint_john-65-can-meds", "ticon/west_dipper_harbour-46-can-meds"],
  ["ticon/avonmouth-avo-gbr-bodc", "ticon/newport-npo-gbr-bodc"], ["noaa/9414290", "noaa/9414792"], ["noaa/8545240", "noaa/8545530"],
  ["ticon/le_havre-4-fra-refmar", "ticon/ouistreham-311-fra-refmar"], ["ticon/weymouth-wey-gbr-bodc", "ticon/west_bay_harbour-wbh-gbr-cco"],
  ["ticon/weymouth-wey-gbr-bodc", "ticon/swanage_pier-swp-gbr-cco"], ["ticon/southampton-sou-gbr-da_idh", "ticon/portsmouth-ptm-gbr-bodc"],
  ["ticon/southampton-sou-gbr-da_idh", "ticon/lymington-lym-gbr-cco"]];
const neighbours = beside.map(([coast, id]) => {
  const s = stationsById.get(id);
  const of = s.harmonic_constituents.map((c) => [c.name, +c.amplitude.toFixed(4), +c.phase.toFixed(2)]).filter((c) => c[1] > 0);
  return [coast, s.name.split(" (")[0].replace(/,/g, ""), s.latitude.toFixed(4), s.longitude.toFixed(4), of.map((c) => c.join(":")).join(" ")].join(",");
});
fs.writeFileSync(path.join(out, "neighbours.csv"), "coast,name,latitude,longitude,constants\n" + neighbours.join("\n") + "\n");
