// Area with a 2,000-replicate bootstrap: this package against numpy and scikit-learn, in one run.
// Run after a build: node tests/bench/areas.mjs [python]
// The customary way is timed on 25 replicates and multiplied up; its preparation is nothing.
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
const seconds = (run) => {
  const begun = performance.now();
  const result = run();
  return [(performance.now() - begun) / 1000, result];
};
const best = (run, times) => Math.min(...Array.from({ length: times }, () => seconds(run)[0]));

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
    const theirs = reference(task, rows);
    const own = best(() => areaUnderCurve(data, options), 3);
    const [, found] = seconds(() => areaUnderCurve(data, options));
    const begun = performance.now();
    await areaUnderCurveOnThreads(data, { ...options, workers: 2 });
    const threads = (performance.now() - begun) / 1000;
    if (Math.abs(found.value - theirs.area) > 1e-9) throw new Error("areas differ");
    const customary = theirs.customary * replicates;
    const counting = theirs.prepare + theirs.counting * replicates;
    table.push({
      task,
      step,
      "own s": own.toFixed(3),
      "two threads s": threads.toFixed(3),
      "customary s": customary.toFixed(1),
      ratio: (customary / own).toFixed(0),
      "ratio, two threads": (customary / threads).toFixed(0),
      goal: goals[step],
      "counting in numpy s": counting.toFixed(2),
      "its ratio": (counting / own).toFixed(1),
    });
  }
}
console.table(table);

// DeLong's area and standard error against one typed-array sort of the same values
const delong = [0.25, 0.05, 0.01, 0].map((step) => {
  const { values, condition } = invented(step === 0 ? 1e-9 : step, false);
  const sort = best(() => values.slice().sort(), 15);
  const own = best(() => areaUnderCurve({ values, condition }, { positiveWhen: "high" }), 15);
  return {
    step: step === 0 ? "none" : step,
    "area and se ms": (own * 1000).toFixed(2),
    "one sort ms": (sort * 1000).toFixed(2),
    ratio: (own / sort).toFixed(2),
    goal: 1.5,
  };
});
console.table(delong);
rmSync(folder, { recursive: true });
