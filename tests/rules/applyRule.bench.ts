import { bench, describe } from "vitest";
import { createRandom } from "../../src/inference/random.js";
import { applyRule, defineRule, type RuleColumns } from "../../src/rules/index.js";

/**
 * A rule of five criteria over a million children, read from its JSON, against summing the columns
 * it reads once, in the same run. Wanted: at most ten times as long; no code is made from the rule.
 */
const n = 1_000_000;
const random = createRandom(20_260_107);
const steps = (from: number, count: number) =>
  Float64Array.from({ length: n }, () => from + Math.floor(random.uniform() * count) / 4);
const eye = () => ({
  sphere: steps(-3, 26).map((value) => (random.uniform() < 0.03 ? Number.NaN : value)),
  cylinder: steps(-2.25, 10),
  axis: Float64Array.from({ length: n }, () => Math.ceil(random.uniform() * 180)),
});
const ages = Float64Array.from({ length: n }, () => Math.floor(random.uniform() * 84));
const columns: RuleColumns = {
  kind: "rule-columns",
  n,
  ageMonths: ages,
  right: eye(),
  left: eye(),
};
const limits = (shift: number) => [
  {
    criterion: "hyperopia",
    quantity: "mostPositiveMeridian",
    eye: "either",
    relation: ">",
    limit: 3.5 + shift,
  },
  {
    criterion: "myopia",
    quantity: "mostNegativeMeridian",
    eye: "either",
    relation: "<",
    limit: -3 - shift,
  },
  {
    criterion: "astigmatism",
    quantity: "cylinder",
    eye: "either",
    relation: ">",
    limit: 1.75 + shift,
  },
  {
    criterion: "obliqueAstigmatism",
    quantity: "cylinder",
    eye: "either",
    degreesOff: 10,
    relation: ">",
    limit: 1.25 + shift,
  },
  {
    criterion: "anisometropia",
    quantity: "M",
    relation: ">",
    limit: 1.5 + shift,
  },
];
const named = { kind: "rule", id: "invented", title: "Invented", definition: "own" };
const json = JSON.stringify({ ...named, appliesTo: "reading", referWhen: limits(0) });
const banded = JSON.stringify({
  ...named,
  appliesTo: "reading",
  bands: [
    { ageMonths: [12, 36], referWhen: limits(0.5) },
    { ageMonths: [36, 72], referWhen: limits(0) },
  ],
});

const once = { iterations: 12, warmupIterations: 3, time: 0, warmupTime: 0 };
const seen = { total: 0 };

function sums(): void {
  for (const { sphere, cylinder, axis } of [columns.right, columns.left]) {
    for (const column of [sphere, cylinder, axis]) {
      let sum = 0;
      for (let row = 0; row < n; row++) sum += column[row];
      seen.total += sum;
    }
  }
}

describe("five criteria, a million children", () => {
  bench("summing the six columns", sums, once);
  bench(
    "applyRule, every age",
    () => {
      seen.total += applyRule(defineRule(JSON.parse(json)), columns).counts.refer;
    },
    once,
  );
  bench(
    "applyRule, two age bands",
    () => {
      seen.total += applyRule(defineRule(JSON.parse(banded)), columns).counts.refer;
    },
    once,
  );
});
