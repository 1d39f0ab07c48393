import { describe, expect, test } from "vitest";
import { limitsOfAgreement } from "../../src/agreement/index.js";
import { pairMoments } from "../../src/agreement/limits/pairMoments.js";
import { createRandom } from "../../src/inference/random.js";

// Rows on a grid of 1/1024, so that every sum is exact in whole numbers of unlimited size.
const step = 1 / 1024;
const rows = 20_000;

interface Shape {
  readonly difference: (z: number, row: number) => number;
  readonly reference: (z: number, row: number) => number;
}

const shapes: { readonly [name: string]: Shape } = {
  plain: { difference: (z) => 0.5 * z, reference: (z) => 2 * z },
  "differences far from 0": { difference: (z) => 1e6 + 0.01 * z, reference: (z) => 2 * z },
  "values far from 0": { difference: (z) => 0.01 * z, reference: (z) => 1e6 + z },
  "sorted by the difference": { difference: (z, row) => row / 500 + 0.01 * z, reference: (z) => z },
  "first block elsewhere": {
    difference: (z, row) => (row < 4096 ? 1e6 : 0) + 0.01 * z,
    reference: (z) => z,
  },
  "last block elsewhere": {
    difference: (z, row) => (row > 16_384 ? 1e6 : 0) + 0.01 * z,
    reference: (z) => z,
  },
  "heavy tails": { difference: (z) => z ** 9, reference: (z) => z },
  "spread that grows": { difference: (z, row) => (z * row) / 1000, reference: (z) => z },
  "spread that shrinks": { difference: (z, row) => (1000 * z) / (row + 1), reference: (z) => z },
  constant: { difference: () => 0.25, reference: (z) => z },
  "no difference at all": { difference: () => 0, reference: (z) => z },
};

function columns({ difference, reference }: Shape) {
  const random = createRandom(20261126);
  const onGrid = (value: number) => Math.round(value / step) * step;
  const known = Float64Array.from({ length: rows }, (_, row) =>
    onGrid(reference(random.normal(), row)),
  );
  const reading = known.map((value, row) => value + onGrid(difference(random.normal(), row)));
  return { test: reading, reference: known };
}

/** Sums about the means by definition, exact up to the last division. */
function exactMoments({ test, reference }: ReturnType<typeof columns>) {
  const whole = (value: number) => BigInt(value / step);
  let [d, s, dd, ss, ds] = [0n, 0n, 0n, 0n, 0n];
  for (let row = 0; row < test.length; row++) {
    const difference = whole(test[row]) - whole(reference[row]);
    const sum = whole(test[row]) + whole(reference[row]);
    d += difference;
    s += sum;
    dd += difference * difference;
    ss += sum * sum;
    ds += difference * sum;
  }
  const n = BigInt(test.length);
  const about = (products: bigint, a: bigint, b: bigint) =>
    (Number(n * products - a * b) / Number(n)) * step * step;
  return {
    bias: (Number(d) / rows) * step,
    squares: about(dd, d, d),
    sumSquares: about(ss, s, s),
    products: about(ds, d, s),
  };
}

describe.each(Object.entries(shapes))("moments of pairs: %s", (name, shape) => {
  const pairs = columns(shape);

  test("the same as exact sums", () => {
    const found = pairMoments(pairs.test, pairs.reference);
    const exact = exactMoments(pairs);
    const close = (value: number, wanted: number, size: number) =>
      expect(Math.abs(value - wanted)).toBeLessThanOrEqual(1e-12 * size);
    close(found.bias, exact.bias, Math.abs(exact.bias) + Math.sqrt(exact.squares / rows));
    close(found.squares, exact.squares, exact.squares);
    close(found.sumSquares, exact.sumSquares, exact.sumSquares);
    close(found.products, exact.products, Math.sqrt(exact.squares * exact.sumSquares));
  });

  test("rows outside the limits are those of a plain count", () => {
    for (const multiplier of [0.5, 1.959964, 3, 6]) {
      const found = limitsOfAgreement(pairs, {
        multiplier,
        interval: "approximate",
        conditional: "skip",
      });
      let [below, above] = [0, 0];
      for (let row = 0; row < rows; row++) {
        const difference = pairs.test[row] - pairs.reference[row];
        if (difference < found.lower.value) below++;
        if (difference > found.upper.value) above++;
      }
      expect([name, multiplier, found.outside.below, found.outside.above]).toEqual([
        name,
        multiplier,
        below,
        above,
      ]);
    }
  });

  test("differences set aside are all those beyond their bounds", () => {
    const { test, reference } = pairs;
    for (const reach of [0, 1, 1.76, 4]) {
      const { far } = pairMoments(test, reference, reach);
      const beyond = (difference: number) => difference < far.lowest || difference > far.highest;
      const all = test.map((value, row) => value - reference[row]).filter(beyond);
      const kept = far.differences.filter(beyond);
      expect(kept).toEqual(all);
    }
  });
});

test("differences too small to be squared are counted", () => {
  const tiny = Float64Array.from({ length: 10_000 }, (_, row) => (row % 3) * 1e-170);
  const zero = new Float64Array(10_000);
  const { outside, lower, upper } = limitsOfAgreement(
    { test: tiny, reference: zero },
    { conditional: "skip" },
  );
  expect(outside.below).toBe(tiny.filter((value) => value < lower.value).length);
  expect(outside.above).toBe(tiny.filter((value) => value > upper.value).length);
});

test("far differences are few where the first block is like the others", () => {
  const pairs = columns(shapes.plain);
  const { far } = pairMoments(pairs.test, pairs.reference, 1.76);
  expect(far.differences.length).toBeLessThan(4096 + 0.1 * (rows - 4096));
  expect(far.lowest).toBeGreaterThan(-0.98);
  expect(far.highest).toBeLessThan(0.98);
});
