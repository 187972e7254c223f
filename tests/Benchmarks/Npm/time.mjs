// Times the reference libraries on the work described in a JSON file, and writes one JSON object to standard output.
// Run by the benchmark program from a folder that has @neaps/tide-predictor and astronomy-engine: node time.mjs job.json
// Each figure is the median of short batches after a warm-up that lets the runtime compile what is hot.
import { createTidePredictor } from "@neaps/tide-predictor";
import * as A from "astronomy-engine";
import fs from "node:fs";

const job = JSON.parse(fs.readFileSync(process.argv[2], "utf8"));
const day = 86400000;
const start = job.startMs;
const place = new A.Observer(job.latitude, job.longitude, 0);
const predictor = createTidePredictor(job.constituents, { nodeCorrections: "schureman" });
const warmMs = 1000, batchMs = 3, measureMs = 1000;
let sink = 0;

function median(work) {
  const now = () => Number(process.hrtime.bigint());
  const warmEnd = now() + warmMs * 1e6;
  let calls = 0, spent = now();
  while (now() < warmEnd || calls < 3) { sink += work(); calls++; }
  spent = (now() - spent) / calls;
  const perBatch = Math.max(1, Math.round(batchMs * 1e6 / spent));
  const found = [];
  const end = now() + measureMs * 1e6;
  while (now() < end || found.length < 9) {
    const from = now();
    for (let n = 0; n < perBatch; n++) sink += work();
    found.push((now() - from) / perBatch);
  }
  found.sort((a, b) => a - b);
  return found[found.length >> 1];
}

const span = (days) => ({ start: new Date(start), end: new Date(start + days * day) });
const curve = () => predictor.getTimelinePrediction({ ...span(1), timeFidelity: 600 });
const turns = (days) => predictor.getExtremesPrediction(span(days));
const rise = (n) => A.SearchRiseSet(A.Body.Sun, place, +1, new Date(start + n * day), 1);
const set = (n) => A.SearchRiseSet(A.Body.Sun, place, -1, new Date(start + n * day), 1);

const tideDay = median(() => curve().length + turns(1).length);
const search = median(() => {
  let n = turns(job.searchDays).length;
  for (let d = 0; d < job.searchDays; d++) n += rise(d).ut;
  return n;
});
const sunYear = median(() => {
  let n = 0;
  for (let d = 0; d < job.sunDays; d++) n += rise(d).ut + set(d).ut;
  return n;
});

console.log(JSON.stringify({
  tideDayNs: tideDay,
  searchNs: search,
  sunYearNs: sunYear,
  heights: curve().map((p) => p.level),
  turnsMs: turns(1).map((t) => t.time.getTime()),
  risesMs: Array.from({ length: job.sunDays }, (_, d) => rise(d).date.getTime()),
  sink: Number.isFinite(sink),
}));
