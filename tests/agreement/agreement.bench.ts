import { bench, describe } from "vitest";
import { limitsOfAgreement, passingBablok } from "../../src/agreement/index.js";
import { createRandom } from "../../src/inference/random.js";

// Goals: limits at most 5 times one pass of summing; passingBablok at n 20,000 under 2 s.
const random = createRandom(1);
const rows = 1_000_000;
const reference = Float64Array.from({ length: rows }, () => 2 * random.normal());
const test = reference.map((value) => value + 0.5 * random.normal());

describe("a million pairs", () => {
  bench("one pass of summing the differences", () => {
    let sum = 0;
    for (let row = 0; row < rows; row++) sum += test[row] - reference[row];
    if (!Number.isFinite(sum)) throw new Error("never");
  });

  bench("limitsOfAgreement, exact, no subjects, no normality check", () => {
    limitsOfAgreement({ test, reference }, { normality: "skip" });
  });
});

describe("Passing and Bablok with intervals, 20,000 rows", () => {
  const take = (values: Float64Array, step: number) =>
    values.subarray(0, 20_000).map((value) => Math.round(value / step) * step);
  const fine = { test: take(test, 0.01), reference: take(reference, 0.01) };
  const coarse = { test: take(test, 0.25), reference: take(reference, 0.25) };

  bench("steps of 0.01 D", () => void passingBablok(fine), {
    iterations: 3,
    warmupIterations: 1,
    time: 0,
  });
  bench("steps of 0.25 D", () => void passingBablok(coarse), {
    iterations: 3,
    warmupIterations: 1,
    time: 0,
  });
});
