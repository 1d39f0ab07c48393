import { expect, it } from "vitest";
import { foldedDistribution, nonparametricLimits } from "../../src/agreement/index.js";
import { foldedDifferencesFigure } from "../../src/figures/index.js";

it("draws rows that carry a kind of their own, such as pairs of eyes, as plain rows", () => {
  const test = Array.from({ length: 60 }, (_, row) => (row % 15) / 4);
  const pairs = { test, reference: test.map(() => 1) };
  const limits = nonparametricLimits(pairs);
  const plain = foldedDifferencesFigure(limits, pairs);
  expect(foldedDifferencesFigure(limits, { ...pairs, kind: "eye-pairs" } as typeof pairs)).toEqual(
    plain,
  );
  expect(foldedDifferencesFigure(limits, foldedDistribution(pairs, { rowsApart: 11 }))).toEqual(
    plain,
  );
});
