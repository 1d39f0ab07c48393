// Area with a 2,000-replicate bootstrap: this package against numpy and scikit-learn, in one run.
// Run after a build: node tests/bench/areas.mjs [python]
// The two take turns, so that a busy machine hits both. The customary way is timed on 25 replicates a
// turn and multiplied up; its preparation is nothing. Ratios: best turn against best turn, median
// against median, and least processor time against least processor time.
import { execFileSync } from "node:child_process";
import { mkdtempSync, rmSync, writeFileSync } from "node:fs";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { fileURLToPath } from "node:url";
import { createRandom } from "../../dist/inference/index.js";
import { areaUnderCurve, areaUnderCurveOnThreads } from "../../dist/thresholds/index.js";

const python = process.argv[2] ?? "/usr/bin/python3";
const n = 100_000;
const replicates = 2_000;
const folder = mkdtempSync(join(tmpdir(), "areas-"));
const script = fileURLToPath(new URL("areaReference.py", import.meta.url));
const rounds = 7;
const least = (list) => Math.min(...list);
const mean = (list) => list.reduce((sum, value) => sum + value, 0) / list.length;
const median = (list) => list.slice().sort((a, b) => a - b)[list.length >> 1];

/** Seconds by the clock and of processor time, appended to a record. */
async function timed(record, run) {
  const [clock, processor] = [performance.now(), process.cpuUsage()];
  const result = await run();
  const { user, system } = process.cpuUsage(processor);
  record.clock.push((performance.now() - clock) / 1000);
  record.processor.push((user + system) / 1e6);
  return result;
}
const record = () => ({ clock: [], processor: [] });

/** Invented rows: condition by eye, values on a grid of the given step. */
function invented(step, paired) {
  const random = createRandom(20261125, Math.round(step * 100));
  const condition = new Uint8Array(n);
  const values = new Float64Array(n);
  let child = 0;
  let tendency = 0;
  for (let row = 0; row < n; row++) {
    if (!paired || row % 2 === 0) {
      child = random.uniform() < 0.1 ? 1 : 0;
      tendency = random.normal();
    }
    condition[row] = random.uniform() < 0.9 ? child : 1 - child;
    values[row] =
      Math.round((1.2 * tendency + 0.9 * random.normal() + 2 * condition[row]) / step) * step;
  }
  return { condition, values, subjects: Int32Array.from({ length: n }, (_, row) => row >> 1) };
}

function reference(task, { condition, values }) {
  const file = join(folder, "rows.bin");
  writeFileSync(file, Buffer.concat([Buffer.from(condition.buffer), Buffer.from(values.buffer)]));
  const input = `${JSON.stringify({ task, file, n, replicates: 25 })}\n`;
  return JSON.parse(execFileSync(python, [script], { input, encoding: "utf8" }));
}

const table = [];
for (const [task, goals] of [
  ["rows", { 0.25: 300, 0.05: 200, 0.01: 80 }],
  ["children", { 0.25: 60, 0.01: 20 }],
]) {
  for (const step of Object.keys(goals).map(Number).sort((a, b) => b - a)) {
    const { subjects, ...rows } = invented(step, task === "children");
    const data = task === "children" ? { ...rows, subjects } : rows;
    const options = { positiveWhen: "high", interval: "bootstrap", seed: 1, replicates };
    const [own, threads, theirs, counting] = [record(), record(), record(), record()];
    for (let round = 0; round < rounds; round++) {
      const there = reference(task, rows);
      for (const of of ["clock", "processor"]) {
        theirs[of].push(mean(there.customary[of]) * replicates);
        counting[of].push(there.prepare + mean(there.counting[of]) * replicates);
      }
      const found = await timed(own, () => areaUnderCurve(data, options));
      if (Math.abs(found.value - there.area) > 1e-9) throw new Error("areas differ");
      await timed(threads, () => areaUnderCurveOnThreads(data, { ...options, workers: 2 }));
    }
    table.push({
      task,
      step,
      "own s": least(own.clock).toFixed(3),
      "two threads s": least(threads.clock).toFixed(3),
      "customary s": least(theirs.clock).toFixed(1),
      "best ratio": (least(theirs.clock) / least(own.clock)).toFixed(0),
      "of medians": (median(theirs.clock) / median(own.clock)).toFixed(0),
      "of processor time": (least(theirs.processor) / least(own.processor)).toFixed(0),
      "two threads": (least(theirs.clock) / least(threads.clock)).toFixed(0),
      goal: goals[step],
      "counting in numpy s": least(counting.clock).toFixed(2),
      "its ratio": (least(counting.clock) / least(own.clock)).toFixed(1),
    });
  }
}
console.table(table);

// DeLong's area and standard error against one typed-array sort of the same values, in turns
const delong = [];
for (const step of [0.25, 0.05, 0.01, 0]) {
  const { values, condition } = invented(step === 0 ? 1e-9 : step, false);
  const [sort, own] = [record(), record()];
  for (let round = 0; round < 40; round++) {
    await timed(sort, () => values.slice().sort());
    await timed(own, () => areaUnderCurve({ values, condition }, { positiveWhen: "high" }));
  }
  delong.push({
    step: step === 0 ? "none" : step,
    "area and se ms": (least(own.clock) * 1000).toFixed(2),
    "one sort ms": (least(sort.clock) * 1000).toFixed(2),
    "best ratio": (least(own.clock) / least(sort.clock)).toFixed(2),
    "of medians": (median(own.clock) / median(sort.clock)).toFixed(2),
    goal: 1.5,
  });
}
console.table(delong);
rmSync(folder, { recursive: true });
