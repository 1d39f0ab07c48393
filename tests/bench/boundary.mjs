// What the check of arguments costs on a million rows: node tests/bench/boundary.mjs. Needs npm run build.
// Each function is called as the package gives it out, and as its room has it, in turns, so that a busy machine hits
// both. Printed: the quicker quarter of the turns of each in milliseconds, and their ratio.
import { createRandom } from "../../dist/inference/index.js";
import * as checked from "../../dist/face.js";
import * as bare from "../../dist/index.js";

const n = 1_000_000;
const random = createRandom(26);
const values = Float64Array.from({ length: n }, () => Math.round(16 * random.normal()) / 8);
const reference = values.map((value) => value + Math.round(4 * random.normal()) / 8);
const condition = Array.from(reference, (value) => (value <= -0.5 ? 1 : 0));
const test = Array.from(values, (value) => (value <= -0.75 ? 1 : 0));
const subjects = Array.from({ length: n }, (_, row) => `child ${row >> 1}`);
const positiveWhen = "low";

const calls = {
  areaUnderCurve: [({ areaUnderCurve }) => areaUnderCurve({ values, condition }, { positiveWhen }), 40],
  "areaUnderCurve, by child": [
    ({ areaUnderCurve }) => areaUnderCurve({ values, condition, subjects }, { positiveWhen }),
    10,
  ],
  rocCurve: [({ rocCurve }) => rocCurve({ values, condition }, { positiveWhen }), 40],
  crossClassify: [({ crossClassify }) => crossClassify({ test, reference: condition }), 40],
  limitsOfAgreement: [({ limitsOfAgreement }) => limitsOfAgreement({ test: values, reference }), 10],
};

const timed = (call) => {
  const start = performance.now();
  call();
  return performance.now() - start;
};
const quarter = (times) => times.toSorted((a, b) => a - b)[times.length >> 2];

const rows = Object.entries(calls).map(([name, [call, turns]]) => {
  const times = { checked: [], bare: [] };
  for (let turn = 0; turn < turns; turn++) {
    times.bare.push(timed(() => call(bare)));
    times.checked.push(timed(() => call(checked)));
  }
  const [withCheck, without] = [quarter(times.checked), quarter(times.bare)];
  return { call: name, bare: without.toFixed(1), checked: withCheck.toFixed(1), ratio: (withCheck / without).toFixed(3) };
});
console.table(rows);
