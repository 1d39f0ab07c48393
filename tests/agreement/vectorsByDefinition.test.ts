import { mean, quantileSorted, sum } from "simple-statistics";
import { describe, expect, it } from "vitest";
import {
  axisAgreement,
  doubleAngleSummary,
  limitsOfAgreement,
  vectorAgreement,
} from "../../src/agreement/index.js";
import type { Ellipse } from "../../src/agreement/vectors/ellipse.js";
import { toleranceSquaredRadius } from "../../src/agreement/vectors/toleranceSquaredRadius.js";
import { clusteredShare, createRandom } from "../../src/inference/index.js";

const names = ["M", "J0", "J45"] as const;

/** 21 children of one or two eyes. */
function invented() {
  const random = createRandom(81);
  const out = {
    test: [] as Record<(typeof names)[number], number>[],
    reference: [] as Record<(typeof names)[number], number>[],
    subjects: [] as number[],
  };
  for (let child = 0; child < 21; child++) {
    const shared = [0.5, 0.2, 0.1].map((sd) => sd * random.normal());
    for (let eye = 0; eye <= child % 2; eye++) {
      const [M, J0, J45] = [1, 0.3, 0.2].map((sd) => sd * random.normal());
      const error = shared.map(
        (one, k) => one + [0.3, 0.1 + 0.2 * M ** 2, 0.2][k] * random.normal(),
      );
      out.reference.push({ M, J0, J45 });
      out.test.push({ M: M + error[0], J0: J0 + error[1], J45: J45 + error[2] + 0.3 * error[1] });
      out.subjects.push(child);
    }
  }
  return out;
}

const data = invented();
const n = data.test.length;
const differences = names.map((name) =>
  data.test.map((one, row) => one[name] - data.reference[row][name]),
);
const means = differences.map((column) => mean(column));
const cross = (a: number[][], factor: number) =>
  a.map((x) => a.map((y) => factor * sum(x.map((one, row) => one * y[row]))));
const centred = differences.map((column, k) => column.map((one) => one - means[k]));
const covariance = cross(centred, 1 / (n - 1));
const perChild = (column: number[]) =>
  Array.from({ length: 21 }, (_, child) =>
    sum(column.filter((_one, row) => data.subjects[row] === child)),
  );
const meanCovariance = cross(centred.map(perChild), 21 / 20 / n ** 2);
const plus = covariance.map((row, i) => row.map((one, j) => one + meanCovariance[i][j]));

/** Quantile of F with 2 and m degrees of freedom, which has a closed form; so has chi-square with 2. */
const fOfTwo = (p: number, m: number) => (m / 2) * ((1 - p) ** (-2 / m) - 1);
const chiOfTwo = (p: number) => -2 * Math.log(1 - p);

/** An ellipse is known by its area, its squared axes and the direction in which the form is largest. */
function expectEllipse(found: Ellipse, matrix: number[][], squaredRadius: number) {
  const [[xx, xy], [, yy]] = [1, 2].map((i) => [1, 2].map((j) => matrix[i][j]));
  const [major, minor] = found.semiAxes;
  expect(major).toBeGreaterThan(minor);
  expect(major * minor).toBeCloseTo(squaredRadius * Math.sqrt(xx * yy - xy ** 2), 10);
  expect(major ** 2 + minor ** 2).toBeCloseTo(squaredRadius * (xx + yy), 10);
  const angle = (found.angle * Math.PI) / 180;
  const along =
    xx * Math.cos(angle) ** 2 +
    2 * xy * Math.cos(angle) * Math.sin(angle) +
    yy * Math.sin(angle) ** 2;
  expect(squaredRadius * along).toBeCloseTo(major ** 2, 10);
  expect(found.centre.x).toBeCloseTo(means[1], 12);
  expect(found.centre.y).toBeCloseTo(means[2], 12);
}

describe("vectors of 21 children, some with both eyes", () => {
  const found = vectorAgreement(data, { level: 0.9, coverage: 0.8 });

  it("mean, covariance of eyes, covariance of the mean over children", () => {
    expect(Object.values(found.mean)).toEqual(means.map((one) => expect.closeTo(one, 12)));
    for (const [i, row] of covariance.entries()) {
      for (const [j, one] of row.entries()) {
        expect(found.covariance[i][j]).toBeCloseTo(one, 12);
        expect(found.meanCovariance[i][j]).toBeCloseTo(meanCovariance[i][j], 12);
      }
    }
    expect(found).toMatchObject({
      kind: "vector-agreement",
      direction: "test-minus-reference",
      n,
      subjects: 21,
      level: 0.9,
      coverage: 0.8,
      mirrored: false,
      simultaneous: "bonferroni",
    });
  });

  it("three ellipses of J0 and J45: Hotelling's with children - 1 and - 2, chi-square of the eyes", () => {
    const { centroid, eyes, nextEye } = found.ellipses;
    const hotelling = (p: number) => ((2 * 20) / 19) * fOfTwo(p, 19);
    expectEllipse(centroid, meanCovariance, hotelling(0.9));
    expectEllipse(eyes, covariance, chiOfTwo(0.8));
    expectEllipse(nextEye, plus, hotelling(0.8));
    expect(centroid).toMatchObject({ region: "confidence-of-mean", level: 0.9 });
    expect(eyes).toMatchObject({ region: "plug-in", level: 0.8, method: "chi-square" });
    expect(nextEye).toMatchObject({ region: "prediction", level: 0.8 });
    for (const one of [centroid, nextEye]) expect(one.method).toBe("hotelling-cluster-robust");
    const alone = vectorAgreement({ test: data.test, reference: data.reference }).ellipses;
    for (const one of [alone.centroid, alone.nextEye]) expect(one.method).toBe("hotelling");
  });

  it("regions of all three (table of F: 3 and 18 degrees of freedom, .95 3.160; chi-square 3: 7.815)", () => {
    const { regions } = vectorAgreement(data, { replicates: 30, seed: 6 });
    expect(regions.map(({ region }) => region)).toEqual([
      "confidence-of-mean",
      "plug-in",
      "prediction",
      "tolerance",
    ]);
    const [ofMean, plugIn, prediction, tolerance] = regions;
    const hotelling = ((3 * 20) / 18) * 3.16;
    expect(Math.abs(ofMean.squaredRadius - hotelling)).toBeLessThan(0.003);
    expect(Math.abs(prediction.squaredRadius - hotelling)).toBeLessThan(0.003);
    expect(Math.abs(plugIn.squaredRadius - 7.815)).toBeLessThan(0.0006);
    expect(ofMean.covariance).toEqual(found.meanCovariance);
    expect(plugIn.covariance).toEqual(found.covariance);
    expect(prediction.covariance[1][2]).toBeCloseTo(plus[1][2], 12);
    const sample = { n: 21, dimensions: 3, content: 0.95, confidence: 0.95 };
    expect(tolerance).toEqual({
      region: "tolerance",
      level: 0.95,
      confidence: 0.95,
      method: "simulation",
      covariance: found.covariance,
      ...toleranceSquaredRadius(sample, { replicates: 30, seed: 6 }),
    });
    expect(found.regions).toHaveLength(3);
  });

  it.each([
    // normal quantiles of .975 and 1 - .05 / 6; the root of the chi-square quantile of 3
    ["none", 1.959963984540054],
    ["bonferroni", 2.3939797998185104],
    ["ellipsoid-shadow", Math.sqrt(7.814727903251179)],
  ] as const)("limits of the components, %s: %f SDs", (simultaneous, multiplier) => {
    const { limits } = vectorAgreement(data, { simultaneous });
    for (const name of names) {
      const [test, reference] = [data.test, data.reference].map((rows) =>
        rows.map((one) => one[name]),
      );
      const { subjects } = data;
      const alone = limitsOfAgreement(
        { test, reference, subjects },
        { multiplier, conditional: "skip" },
      );
      expect(limits[name].multiplier).toBeCloseTo(multiplier, 10);
      expect(limits[name].lower.value).toBeCloseTo(alone.lower.value, 9);
      expect(limits[name].upper.high).toBeCloseTo(alone.upper.high, 9);
    }
  });

  it("distances in three dimensions, and the shares of children's eyes within 0.25, 0.5 and 1 D", () => {
    const lengths = data.test.map((_, row) =>
      Math.sqrt(sum(differences.map((column) => column[row] ** 2))),
    );
    const sorted = [...lengths].sort((a, b) => a - b);
    expect(found.distances.median).toBeCloseTo(quantileSorted(sorted, 0.5), 12);
    expect(found.distances.ninetyFifth).toBeCloseTo(quantileSorted(sorted, 0.95), 12);
    expect(found.distances.within).toEqual(
      [0.25, 0.5, 1].map((acceptable) => ({
        acceptable,
        share: clusteredShare(
          {
            successes: perChild(lengths.map((one) => Number(one <= acceptable))),
            rows: perChild(lengths.map(() => 1)),
          },
          0.9,
        ),
      })),
    );
  });

  it("one sample of vectors has the ellipses of its own", () => {
    const vectors = data.test.map((_, row) => ({
      M: differences[0][row],
      J0: differences[1][row],
      J45: differences[2][row],
    }));
    const alone = doubleAngleSummary(
      { vectors, subjects: data.subjects },
      { level: 0.9, coverage: 0.8 },
    );
    expect(alone.ellipses).toEqual(found.ellipses);
    expect(alone.covariance).toEqual(found.covariance);
    expect(alone).toMatchObject({ kind: "double-angle-summary", n, subjects: 21, mirrored: false });
  });
});

describe("axes", () => {
  const eye = (cylinder: number, axis: number | null) => ({ cylinder, axis });

  it("shares of eyes count children, among rows where both cylinders are strong", () => {
    const random = createRandom(82);
    const rows = Array.from({ length: 60 }, (_, row) => ({
      test: eye(-0.25 * (row % 7), Math.floor(180 * random.uniform())),
      reference: eye(-0.25 * ((row * 3) % 8), Math.floor(180 * random.uniform())),
      child: row >> 1,
    }));
    const found = axisAgreement(
      {
        test: rows.map(({ test }) => test),
        reference: rows.map(({ reference }) => reference),
        subjects: rows.map(({ child }) => child),
      },
      { cylinderAtLeast: 0.5, degrees: [30, 60], level: 0.9 },
    );
    const strong = rows.filter(
      ({ test, reference }) => test.cylinder <= -0.5 && reference.cylinder <= -0.5,
    );
    const apart = strong.map(({ test, reference }) =>
      // the smallest turn from one to the other, of all whole half-turns
      Math.min(...[-180, 0, 180].map((turn) => Math.abs(test.axis! - reference.axis! + turn))),
    );
    const sorted = [...apart].sort((a, b) => a - b);
    const children = [...new Set(strong.map(({ child }) => child))];
    const totals = (of: (row: number) => number) =>
      children.map((child) => sum(strong.map((row, at) => (row.child === child ? of(at) : 0))));
    expect(found.axisRows).toBe(strong.length);
    expect(found.axisDifference).toEqual({
      median: quantileSorted(sorted, 0.5),
      ninetyFifth: quantileSorted(sorted, 0.95),
    });
    expect(found.within).toEqual(
      [30, 60].map((degrees) => ({
        degrees,
        share: clusteredShare(
          { successes: totals((at) => Number(apart[at] <= degrees)), rows: totals(() => 1) },
          0.9,
        ),
      })),
    );
    expect(found).toMatchObject({ n: 60, subjects: 30, level: 0.9, cylinderAtLeast: 0.5 });
    expect(found.cylinder.level).toBe(0.9);
    expect(found.cylinder.subjects).toBe(30);
  });

  it("weak cylinders alone leave no axis to compare", () => {
    const weak = [eye(-0.5, 10), eye(-0.5, 20), eye(0, null)];
    expect(axisAgreement({ test: weak, reference: weak })).toMatchObject({
      axisRows: 0,
      within: [],
      axisDifference: {
        kind: "undefined",
        reason: "no row has both cylinders of 0.75 D or more",
      },
    });
  });

  const three = [eye(-1, 10), eye(-1, 20), eye(0, null)];
  it.each([
    [
      [eye(0.5, 10), ...three.slice(1)],
      {},
      "axisAgreement requires minus cylinders, got 0.5 at row 0; transpose first",
    ],
    [
      [...three.slice(0, 2), eye(-1, null)],
      {},
      "axisAgreement requires an axis where the cylinder is not 0, got null at row 2",
    ],
    [three, { cylinderAtLeast: 0 }, "axisAgreement requires a positive cylinderAtLeast, got 0"],
  ] as const)("refuses %j with %j", (test, options, message) => {
    expect(() => axisAgreement({ test, reference: three }, options)).toThrow(message);
  });
});
