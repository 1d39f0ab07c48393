import { mean, sampleStandardDeviation, sum } from "simple-statistics";
import { describe, expect, it } from "vitest";
import {
  calibrateReading,
  differenceRegression,
  predictFinding,
} from "../../src/agreement/index.js";
import { linearityTest } from "../../src/agreement/regression/linearityTest.js";
import { clusteredShare, createRandom } from "../../src/inference/index.js";

function invented(n: number, seed = 71) {
  const random = createRandom(seed);
  const test = Array.from({ length: n }, () => 2 * random.normal() - 1);
  const ageYears = test.map((_, row) => 3 + ((row * 5) % 11) / 2);
  const reference = test.map(
    (one, row) => 0.4 + 1.2 * one + 0.1 * ageYears[row] + (0.3 + 0.1 * one ** 2) * random.normal(),
  );
  return { test, reference, ageYears };
}

/** Least squares by Gauss's elimination of the normal equations. */
function leastSquares(columns: number[][], y: number[]): number[] {
  const p = columns.length;
  const rows = columns.map((a) => [
    ...columns.map((b) => sum(a.map((one, at) => one * b[at]))),
    sum(a.map((one, at) => one * y[at])),
  ]);
  for (let k = 0; k < p; k++) {
    for (let i = 0; i < p; i++) {
      if (i === k) continue;
      const share = rows[i][k] / rows[k][k];
      rows[i] = rows[i].map((one, at) => one - share * rows[k][at]);
    }
  }
  return rows.map((row, k) => row[p] / row[k]);
}

/** The k-th from either end, k = (n + 1)(1 - level) / 2 rounded down; none below 1. */
function conformal(errors: number[], oneIn: number): [number, number] | null {
  const sorted = [...errors].sort((a, b) => a - b);
  const rank = Math.floor((sorted.length + 1) / oneIn);
  return rank < 1 ? null : [sorted[rank - 1], sorted[sorted.length - rank]];
}

describe("a calibration with as many folds as children", () => {
  const data = invented(119);
  const n = 119;
  const columns = [data.test.map(() => 1), data.test, data.ageYears];
  const line = leastSquares(columns, data.reference);
  // Each child is predicted by a line that was fitted without it.
  const errors = data.test.map((_, out) => {
    const keep = <Value>(list: Value[]) => list.filter((__, row) => row !== out);
    const own = leastSquares(columns.map(keep), keep(data.reference));
    return sum(columns.map((column, j) => own[j] * column[out])) - data.reference[out];
  });
  const breaks = [-2, 0];
  const found = calibrateReading(data, { folds: n, breaks, seed: 4 });
  const rangeOf = (reading: number) => breaks.filter((edge) => reading >= edge).length;
  const rowsOf = (range: number) =>
    data.test.flatMap((reading, row) => (rangeOf(reading) === range ? [row] : []));

  it("the line, and the errors of what was held out", () => {
    const estimates = [found.intercept, found.slope, found.perYear!];
    for (const [j, { value }] of estimates.entries()) expect(value).toBeCloseTo(line[j], 9);
    expect(found.crossValidated.bias).toBeCloseTo(mean(errors), 9);
    expect(found.crossValidated.sd).toBeCloseTo(sampleStandardDeviation(errors), 9);
    const differences = data.test.map((one, row) => one - data.reference[row]);
    expect(found.uncalibratedSd).toBeCloseTo(sampleStandardDeviation(differences), 10);
    expect(found.range.test).toEqual([Math.min(...data.test), Math.max(...data.test)]);
    expect(found.range.ageYears).toEqual([3, 8]);
    expect(found).toMatchObject({
      kind: "calibration",
      label: "research estimate",
      n,
      subjects: n,
      level: 0.95,
      folds: n,
      seed: 4,
    });
  });

  it("each range: its edges, its order statistics, and how often those of the others held", () => {
    const sizes = [0, 1, 2].map((range) => rowsOf(range).length);
    expect(Math.max(...sizes)).toBeGreaterThan(40);
    const holds = new Array<boolean>(n).fill(false);
    for (const [range, one] of found.ranges.entries()) {
      const rows = rowsOf(range);
      const limits = conformal(
        rows.map((row) => errors[row]),
        40,
      );
      for (const row of rows) {
        const others = rows.filter((other) => other !== row).map((other) => errors[other]);
        const own = conformal(others, 40);
        holds[row] = own !== null && errors[row] >= own[0] && errors[row] <= own[1];
      }
      expect(one.from).toBe(range === 0 ? Math.min(...data.test) : breaks[range - 1]);
      expect(one.to).toBe(range === 2 ? Math.max(...data.test) : breaks[range]);
      expect(one).toMatchObject({ rows: rows.length, children: rows.length });
      if (limits === null) expect([one.lower, one.upper]).toEqual([null, null]);
      else {
        expect(one.lower).toBeCloseTo(limits[0], 9);
        expect(one.upper).toBeCloseTo(limits[1], 9);
      }
      const share = mean(rows.map((row) => Number(holds[row])));
      expect(one.coverage.value).toBeCloseTo(share, 12);
    }
    expect(found.coverage.value).toBeCloseTo(mean(holds.map(Number)), 12);
    expect(found.coverage.value).toBeGreaterThan(0.3);
  });

  it("a prediction: the line, less the errors of its range, from the other end", () => {
    for (const test of [-2.5, -2, -0.5, 0, 1]) {
      const predicted = predictFinding(found, { test, ageYears: 4.25 });
      if (predicted.kind === "undefined") throw new Error(predicted.reason);
      const value = line[0] + line[1] * test + line[2] * 4.25;
      const own = found.ranges[rangeOf(test)];
      expect(predicted.value).toBeCloseTo(value, 9);
      expect(predicted.range).toEqual(own);
      if (own.lower === null || own.upper === null) {
        expect([predicted.low, predicted.high]).toEqual([null, null]);
      } else {
        expect(predicted.low).toBeCloseTo(value - own.upper, 9);
        expect(predicted.high).toBeCloseTo(value - own.lower, 9);
      }
      expect(predicted).toMatchObject({
        kind: "predicted-finding",
        label: "research estimate",
        level: 0.95,
        caution: found.caution,
      });
    }
  });

  it.each([3, 8])("an age at the end of what was fitted (%i years) is inside", (ageYears) => {
    expect(predictFinding(found, { test: 0, ageYears }).kind).toBe("predicted-finding");
  });

  it("outside says what the range was", () => {
    for (const ageYears of [2.9, 8.1]) {
      expect(predictFinding(found, { test: 0, ageYears })).toEqual({
        kind: "undefined",
        reason: "the age lies outside the range that was fitted (3 to 8 years)",
      });
    }
    const [low, high] = found.range.test.map((power) => Number(power.toFixed(3)));
    for (const test of [low - 0.1, high + 0.1]) {
      expect(predictFinding(found, { test, ageYears: 4 })).toEqual({
        kind: "undefined",
        reason: `the reading lies outside the range that was fitted (${low} to ${high} D)`,
      });
    }
    for (const test of found.range.test) {
      expect(predictFinding(found, { test, ageYears: 4 }).kind).toBe("predicted-finding");
    }
  });

  it.each([
    [{ test: Number.NaN, ageYears: 4 }, "predictFinding requires a finite reading, got NaN"],
    [{ test: 0 }, "predictFinding requires ageYears for this calibration, got undefined"],
    [
      { test: 0, ageYears: Number.POSITIVE_INFINITY },
      "predictFinding requires ageYears for this calibration, got Infinity",
    ],
  ])("refuses %j", (reading, message) => {
    expect(() => predictFinding(found, reading)).toThrow(message);
  });
});

describe("ranges without breaks", () => {
  it.each([
    // 39 errors: (39 + 1) of 1/40 is the first from either end; 38 have none
    [39, 0.95, 1, 1],
    [38, 0.95, 1, 0],
    // 22 children a range for .90, 44 for .95, five ranges at most
    [43, 0.9, 1, 2],
    [44, 0.9, 2, 1],
    [88, 0.95, 2, 1],
    [400, 0.9, 5, 4],
  ])("%i children at %f: %i ranges, limits at rank %i", (n, level, ranges, rank) => {
    const { test, reference } = invented(n, 73);
    const found = calibrateReading({ test, reference }, { level, folds: n });
    expect(found.ranges).toHaveLength(ranges);
    expect(sum(found.ranges.map((one) => one.rows))).toBe(n);
    const sorted = [...test].sort((a, b) => a - b);
    expect(found.ranges.map(({ from }) => from)).toEqual(
      Array.from({ length: ranges }, (_, k) => sorted[Math.floor((k * n) / ranges)]),
    );
    const first = found.ranges[0];
    const fitted = test.flatMap((one, out) => {
      if (ranges > 1 && one >= found.ranges[1].from) return [];
      const keep = (list: number[]) => list.filter((_, row) => row !== out);
      const [a, b] = leastSquares([keep(test).map(() => 1), keep(test)], keep(reference));
      return [a + b * one - reference[out]];
    });
    fitted.sort((a, b) => a - b);
    if (rank === 0) expect([first.lower, first.upper]).toEqual([null, null]);
    else {
      expect(first.lower).toBeCloseTo(fitted[rank - 1], 9);
      expect(first.upper).toBeCloseTo(fitted[fitted.length - rank], 9);
    }
  });

  it("two eyes a child are held out together, and the coverage counts children", () => {
    const { test, reference } = invented(80, 74);
    const subjects = test.map((_, row) => row >> 1);
    const found = calibrateReading({ test, reference, subjects }, { level: 0.8, folds: 40 });
    expect(found).toMatchObject({ n: 80, subjects: 40, folds: 40 });
    const errors = test.map((one, out) => {
      const keep = (list: number[]) => list.filter((_, row) => row >> 1 !== out >> 1);
      const [a, b] = leastSquares([keep(test).map(() => 1), keep(test)], keep(reference));
      return a + b * one - reference[out];
    });
    expect(found.crossValidated.sd).toBeCloseTo(sampleStandardDeviation(errors), 9);
    // 11 children a range at 0.8: three ranges of 40
    const edges = found.ranges.slice(1).map(({ from }) => from);
    expect(edges).toHaveLength(2);
    const rangeOf = (row: number) => edges.filter((edge) => test[row] >= edge).length;
    const holds = errors.map((error, row) => {
      const others = errors.filter(
        (_, other) => rangeOf(other) === rangeOf(row) && other >> 1 !== row >> 1,
      );
      const own = conformal(others, 10);
      return own !== null && error >= own[0] && error <= own[1];
    });
    const perChild = (keep: (row: number) => boolean) => {
      const rows = subjects.flatMap((_, row) => (keep(row) ? [row] : []));
      const children = [...new Set(rows.map((row) => subjects[row]))];
      const own = children.map((child) => rows.filter((row) => subjects[row] === child));
      return {
        successes: Float64Array.from(own, (list) => list.filter((row) => holds[row]).length),
        rows: Float64Array.from(own, (list) => list.length),
      };
    };
    expect(found.coverage).toEqual(
      clusteredShare(
        perChild(() => true),
        0.8,
      ),
    );
    for (const [range, { coverage, children }] of found.ranges.entries()) {
      const counts = perChild((row) => rangeOf(row) === range);
      expect(coverage).toEqual(clusteredShare(counts, 0.8));
      expect(children).toBe(counts.rows.length);
    }
  });
});

describe("regression of the difference", () => {
  it("the residual SD divides by rows less coefficients", () => {
    const { test, reference, ageYears } = invented(30);
    const d = test.map((one, row) => one - reference[row]);
    const columns = [d.map(() => 1), test, ageYears];
    const line = leastSquares(columns, d);
    const residuals = d.map((one, row) => one - sum(line.map((b, j) => b * columns[j][row])));
    const found = differenceRegression({ test, reference, covariates: { test, ageYears } });
    expect(found.residualSd).toBeCloseTo(Math.sqrt(sum(residuals.map((e) => e * e)) / 27), 10);
    expect(found.coefficients.map(({ name }) => name)).toEqual(["(intercept)", "test", "ageYears"]);
  });
});

describe("linearity (Passing and Bablok's cumulative sum)", () => {
  it("has no test with all rows on one side, or a level line", () => {
    const x = [1, 2, 3, 4];
    const oneSide = { kind: "undefined", reason: "no rows on one side of the line" };
    expect(linearityTest(x, [0, 2, 2, 4], 1, 0)).toEqual(oneSide);
    expect(linearityTest(x, [1, 3, 3, 5], 1, 0)).toEqual(oneSide);
    expect(linearityTest(x, [1, 2, 3, 4], 1, 0)).toEqual(oneSide);
    expect(linearityTest(x, [1, -1, 1, -1], 0, 0)).toEqual({
      kind: "undefined",
      reason: "the line is level: rows have no order along it",
    });
  });

  it("by hand: four above, then two below, one on the line", () => {
    const x = [1, 2, 3, 4, 5, 6, 7];
    const found = linearityTest(x, [1.1, 2.1, 3.1, 4.1, 5, 5.9, 6.9], 1, 0);
    // scores of sqrt(2/4) four times, then -sqrt(4/2) twice: the sum is largest after four rows
    const statistic = (4 * Math.sqrt(0.5)) / Math.sqrt(3);
    const tail =
      2 * sum([1, 2, 3].map((k) => (k % 2 ? 1 : -1) * Math.exp(-2 * (k * statistic) ** 2)));
    expect(found).toMatchObject({ kind: "linearity-test", above: 4, below: 2, onLine: 1 });
    if (found.kind === "undefined") throw new Error(found.reason);
    expect(found.statistic).toBeCloseTo(statistic, 12);
    expect(found.p).toBeCloseTo(tail, 10);
  });
});
