import fc from "fast-check";
import { describe, expect, test } from "vitest";
import {
  concordanceCorrelation,
  demingRegression,
  type IntraclassForm,
  intraclassCorrelation,
  pairedTTest,
  passingBablok,
  repeatability,
  signedRankTest,
} from "../../src/agreement/index.js";
import { createRandom } from "../../src/index.js";
import { known } from "../known.js";

// Peak flow (l/min), Bland and Altman 1986, first readings.
const large = [494, 395, 516, 434, 476, 557, 413, 442, 650, 433, 417, 656, 267, 478, 178, 423, 427];
const mini = [512, 430, 520, 428, 500, 600, 364, 380, 658, 445, 432, 626, 260, 477, 259, 350, 451];

describe("intraclassCorrelation: Shrout and Fleiss 1979, 6 targets x 4 judges", () => {
  const judges = [
    [9, 2, 5, 8],
    [6, 1, 3, 2],
    [8, 4, 6, 8],
    [7, 1, 2, 6],
    [10, 5, 6, 9],
    [6, 2, 4, 7],
  ];
  // Printed to two decimals (values from memory, reproduced); limits: R 4.2, four decimals.
  const forms: [IntraclassForm, number, number, number][] = [
    ["ICC(1,1)", 0.17, -0.1329, 0.7226],
    ["ICC(2,1)", 0.29, 0.0188, 0.7611],
    ["ICC(3,1)", 0.71, 0.3425, 0.9459],
    ["ICC(1,k)", 0.44, -0.8844, 0.9124],
    ["ICC(2,k)", 0.62, 0.0711, 0.9272],
    ["ICC(3,k)", 0.91, 0.6757, 0.9859],
  ];
  test.each(forms)("%s", (form, value, low, high) => {
    const estimate = known(intraclassCorrelation(judges, { form }).estimate);
    expect(estimate.value).toBeCloseTo(value, 2);
    expect(estimate.low).toBeCloseTo(low, 4);
    expect(estimate.high).toBeCloseTo(high, 4);
  });

  test("mean squares 11.24, 6.26, 32.49, 1.02", () => {
    const { meanSquares } = intraclassCorrelation(judges, { form: "ICC(1,1)" });
    expect(meanSquares.between).toBeCloseTo(11.24, 2);
    expect(meanSquares.within).toBeCloseTo(6.26, 2);
    expect(meanSquares.columns).toBeCloseTo(32.49, 2);
    expect(meanSquares.residual).toBeCloseTo(1.02, 2);
  });

  test("targets that do not vary have none; perfect agreement is 1", () => {
    const flat = intraclassCorrelation(
      [
        [1, 2],
        [1, 2],
      ],
      { form: "ICC(3,1)" },
    );
    expect(flat.estimate.kind).toBe("undefined");
    for (const form of ["ICC(1,1)", "ICC(2,1)", "ICC(3,1)"] as const) {
      const perfect = intraclassCorrelation(
        [
          [1, 1],
          [2, 2],
          [4, 4],
        ],
        { form },
      );
      expect(known(perfect.estimate)).toMatchObject({ value: 1, low: 1, high: 1 });
    }
  });
});

describe("intraclassCorrelation of few targets", () => {
  // Definition: an interval encloses its estimate. Shrout and Fleiss's Satterthwaite limits need not
  // (scipy 1.10.1 f.ppf by their formulas: F quantiles overflow, ICC(2,k) passes the pole).
  test("no NaN, and no interval beside its estimate, in any form", () => {
    const value = fc.integer({ min: -12, max: 12 }).map((k) => k / 4);
    const matrix = fc
      .tuple(fc.integer({ min: 2, max: 5 }), fc.integer({ min: 2, max: 4 }))
      .chain(([n, k]) =>
        fc.array(fc.array(value, { minLength: k, maxLength: k }), { minLength: n, maxLength: n }),
      );
    let estimated = 0;
    fc.assert(
      fc.property(
        matrix,
        fc.constantFrom("1", "2", "3"),
        fc.constantFrom("1", "k"),
        (rows, a, b) => {
          const form = `ICC(${a},${b})` as IntraclassForm;
          const { estimate } = intraclassCorrelation(rows, { form });
          if (estimate.kind === "undefined") return;
          estimated++;
          expect(estimate.low).toBeLessThanOrEqual(estimate.value + 1e-9);
          expect(estimate.value).toBeLessThanOrEqual(estimate.high + 1e-9);
        },
      ),
      { numRuns: 3000, seed: 5 },
    );
    expect(estimated).toBeGreaterThan(2000);
  });
});

describe("repeatability", () => {
  // Bland and Altman 1996, BMJ 313:744: peak flow of 20 children, four readings (l/min; rows 17 to
  // 20 and the results 460.52, 21.5, 60 from memory).
  const children = [
    [190, 220, 200, 200],
    [220, 200, 240, 230],
    [260, 260, 240, 280],
    [210, 300, 280, 265],
    [270, 265, 280, 270],
    [280, 280, 270, 275],
    [260, 280, 280, 300],
    [275, 275, 275, 305],
    [280, 290, 300, 290],
    [320, 290, 300, 290],
    [300, 300, 310, 300],
    [270, 250, 330, 370],
    [320, 330, 330, 330],
    [335, 320, 335, 375],
    [350, 320, 340, 365],
    [360, 320, 350, 345],
    [330, 340, 380, 390],
    [335, 385, 360, 370],
    [400, 420, 425, 420],
    [430, 460, 480, 470],
  ];
  const values = children.flat();
  const units = children.flatMap((row, child) => row.map(() => child));

  test("within variance 460.52, SD 21.5, coefficient 60 (2.77 SD)", () => {
    const r = repeatability({ values, units }, { interval: "chi-square" });
    expect(known(r.withinSd).value ** 2).toBeCloseTo(460.52, 2);
    expect(known(r.withinSd).value).toBeCloseTo(21.5, 1);
    expect(Math.abs(known(r.coefficient).value - 60)).toBeLessThan(1);
    // R 4.2: sw / sqrt(2 n (m - 1))
    expect(known(r.withinSd).se).toBeCloseTo(1.95899811411627, 9);
    expect(r.df).toBe(60);
    // 1.96 sqrt(2) times value, limits and error of the SD: 2.771858582... by hand
    const { value, low, high, se } = known(r.withinSd);
    const coefficient = known(r.coefficient);
    expect(coefficient.value / value).toBeCloseTo(2.7718585822512662, 12);
    expect(coefficient.low / low).toBeCloseTo(2.7718585822512662, 12);
    expect(coefficient.high / high).toBeCloseTo(2.7718585822512662, 12);
    expect(coefficient.se! / se!).toBeCloseTo(2.7718585822512662, 12);
    expect(coefficient).toMatchObject({ level: 0.95, method: "chi-square" });
  });

  test("two eyes of a child are two units, so that anisometropia is no repeat error", () => {
    const eyes = {
      values: [1, 1.5, 5, 5.5, 2, 2.5, 7, 7.5],
      units: ["right", "right", "left", "left", "right", "right", "left", "left"],
      subjects: ["a", "a", "a", "a", "b", "b", "b", "b"],
    };
    const r = repeatability(eyes);
    expect(r.units).toBe(4);
    expect(known(r.withinSd).value).toBeCloseTo(Math.sqrt(0.125), 12);
    // by hand: children of squares 0.25 and df 2 each score 0, so that the error is 0
    expect(known(r.withinSd).se).toBeCloseTo(0, 12);
    const third = {
      values: [1, 1.8, 4, 4.8],
      units: eyes.units.slice(0, 4),
      subjects: [..."cccc"],
    };
    const unlike = repeatability({
      values: [...eyes.values, ...third.values],
      units: [...eyes.units, ...third.units],
      subjects: [...eyes.subjects, ...third.subjects],
    });
    // By hand: squares 0.25, 0.25 and 0.64 on 2 df each; without one child 0.89, 0.89, 0.50 on 4;
    // jackknife of half the logarithm, 2/3 of the sum of squared deviations.
    const logs = [0.89, 0.89, 0.5].map((squares) => Math.log(squares / 4) / 2);
    const mean = (logs[0] + logs[1] + logs[2]) / 3;
    const onLog = Math.sqrt((2 / 3) * logs.reduce((sum, log) => sum + (log - mean) ** 2, 0));
    const error = Math.sqrt(1.14 / 6) * onLog;
    expect(known(unlike.withinSd).se).toBeCloseTo(error, 12);
    expect(known(unlike.coefficient).se).toBeCloseTo(1.96 * Math.SQRT2 * error, 12);
    // Without subjects "right" would be one eye: a far larger number.
    const { subjects: _, ...wrong } = eyes;
    const one = repeatability(wrong, { interval: "chi-square" });
    expect(known(one.withinSd).value).toBeGreaterThan(0.7);
  });

  test("eyes with one reading are counted, not used", () => {
    const r = repeatability({ values: [1, 2, 9], units: ["a", "a", "b"] });
    expect(r).toMatchObject({ n: 3, units: 1, unitsWithOneReading: 1 });
    expect(repeatability({ values: [1, 2], units: ["a", "b"] }).withinSd.kind).toBe("undefined");
  });
});

describe("concordanceCorrelation: Lin 1989 on peak flow (values from memory: .943, SE .029)", () => {
  test("asymptotic .887 to .999", () => {
    const r = concordanceCorrelation({ test: mini, reference: large }, { interval: "asymptotic" });
    const estimate = known(r.estimate);
    expect(estimate.value).toBeCloseTo(0.943, 3);
    expect(estimate.se).toBeCloseTo(0.029, 3);
    expect(estimate.low).toBeCloseTo(0.887, 3);
    expect(estimate.high).toBeCloseTo(0.999, 3);
    // R 4.2, same formulas: precision, accuracy
    expect(r.precision).toBeCloseTo(0.943279446890946, 12);
    expect(r.accuracy).toBeCloseTo(0.999430693136343, 12);
  });

  test("z scale (R 4.2) .850492 to .978726", () => {
    const estimate = known(concordanceCorrelation({ test: large, reference: mini }).estimate);
    // The R value differs by 1.1e-9 (cause not found); python: tanh(atanh(c) - z * se / (1 - c * c))
    // from the c and se above, which R reproduces to 12 digits, gives 0.8504918731685603.
    expect(estimate.low).toBeCloseTo(0.850491872068208, 8);
    expect(estimate.low).toBeCloseTo(0.8504918731685603, 12);
    expect(estimate.high).toBeCloseTo(0.978726279337543, 8);
  });

  test("a column that does not vary has none", () => {
    const r = concordanceCorrelation({ test: [1, 1, 1, 1], reference: [1, 2, 3, 4] });
    expect(r.estimate.kind).toBe("undefined");
  });
});

describe("demingRegression", () => {
  test("peak flow, ratio 1 (R 4.2 by closed form and by optim): 0.97088, 15.2316, jackknife errors", () => {
    const r = demingRegression({ test: mini, reference: large }, { errorRatio: 1 });
    expect(known(r.slope).value).toBeCloseTo(0.970880819764939, 9);
    expect(known(r.intercept).value).toBeCloseTo(15.2315555223308, 6);
    expect(known(r.slope).se).toBeCloseTo(0.139017094560376, 9);
    expect(known(r.intercept).se).toBeCloseTo(69.4795333626697, 6);
  });

  test("the ratio is never silently 1", () => {
    const call = () =>
      demingRegression({ test: mini, reference: large }, {} as { errorRatio: number });
    expect(call).toThrow(/requires an errorRatio .* got undefined/);
  });

  test("the least weighted squared distance, searched by brute force", () => {
    const errorRatio = 2.5;
    const { slope } = demingRegression({ test: mini, reference: large }, { errorRatio });
    const mean = (v: number[]) => v.reduce((a, b) => a + b) / v.length;
    const [mx, my] = [mean(large), mean(mini)];
    const cost = (b: number) =>
      large.reduce((sum, x, i) => sum + (mini[i] - my - b * (x - mx)) ** 2, 0) /
      (errorRatio + b * b);
    const best = known(slope).value;
    expect(cost(best)).toBeLessThan(cost(best + 1e-4));
    expect(cost(best)).toBeLessThan(cost(best - 1e-4));
  });

  test("swapping test and reference inverts the slope and the ratio", () => {
    const one = demingRegression({ test: mini, reference: large }, { errorRatio: 2 });
    const other = demingRegression({ test: large, reference: mini }, { errorRatio: 0.5 });
    expect(known(one.slope).value * known(other.slope).value).toBeCloseTo(1, 9);
  });
});

describe("passingBablok", () => {
  test("peak flow (R 4.2, all slopes listed)", () => {
    const r = passingBablok({ test: mini, reference: large });
    expect(known(r.slope).value).toBeCloseTo(1.06481481481481, 12);
    expect(known(r.slope).low).toBeCloseTo(0.837078651685393, 12);
    expect(known(r.slope).high).toBeCloseTo(1.3968253968254, 12);
    expect(known(r.intercept).value).toBeCloseTo(-24.3055555555556, 9);
    expect(known(r.intercept).low).toBeCloseTo(-178.031746031746, 9);
    expect(known(r.intercept).high).toBeCloseTo(82.938202247191, 9);
    expect(r.slopes).toBe(135);
  });

  test("Sen 1968 (all slopes positive): slope 4, intercept 6", () => {
    const r = passingBablok({
      test: [9, 15, 19, 20, 45, 55, 78],
      reference: [1, 2, 3, 4, 10, 12, 18],
    });
    expect(known(r.slope).value).toBe(4);
    expect(known(r.intercept).value).toBe(6);
  });

  test("a small noisy set, quoted in print: 1.05 and 0.125", () => {
    const r = passingBablok({ test: [2, 1.2, 4.1, 3.5, 6.3, 3], reference: [1, 2, 3, 4, 5, 6] });
    expect(known(r.slope).value).toBeCloseTo(1.05, 12);
    expect(known(r.intercept).value).toBeCloseTo(0.125, 12);
  });

  test("equals the definition over all pairs, on a 0.25 D grid with ties, 0/0 and -1", () => {
    const quarter = fc.integer({ min: -12, max: 12 }).map((k) => k / 4);
    fc.assert(
      fc.property(
        fc.array(fc.tuple(quarter, quarter), { minLength: 8, maxLength: 40 }),
        (points) => {
          const reference = points.map(([x]) => x);
          const readings = points.map(([x, error]) => x + Math.round(error / 0.75) / 4);
          const r = passingBablok({ test: readings, reference });
          const byHand = allSlopes(reference, readings);
          expect(r.slopes).toBe(byHand.slopes);
          expect(r.identicalPairs).toBe(byHand.identical);
          if (r.slope.kind === "undefined") {
            expect(
              byHand.values.every(Number.isFinite) && byHand.values[0] <= byHand.values[2],
            ).toBe(false);
          } else {
            expect(r.slope.value).toBeCloseTo(byHand.values[1], 9);
            expect(r.slope.low).toBeCloseTo(byHand.values[0], 9);
            expect(r.slope.high).toBeCloseTo(byHand.values[2], 9);
          }
        },
      ),
      { numRuns: 300, seed: 7 },
    );
  });

  test("references about 0: the intercept's interval encloses it and covers (own simulation)", () => {
    const random = createRandom(11);
    let covered = 0;
    for (let sample = 0; sample < 400; sample++) {
      const truth = Array.from({ length: 60 }, () => 2 * random.normal());
      const r = passingBablok({
        test: truth.map((x) => x - 0.3 + 0.5 * random.normal()),
        reference: truth.map((x) => x + 0.5 * random.normal()),
      });
      const { low, value, high } = known(r.intercept);
      expect(low <= value && value <= high).toBe(true);
      if (low <= -0.3 && -0.3 <= high) covered++;
    }
    // .950 nominal; order statistics are conservative; three Monte Carlo errors are .033.
    expect(covered / 400).toBeGreaterThan(0.917);
    expect(covered / 400).toBeLessThan(0.995);
  });

  test("a constant added to the test moves the intercept and its interval, nothing else", () => {
    const reference = [-3, -2.25, -1, -0.5, 0, 0.5, 1.25, 2, 3.5];
    const readings = [-2.75, -2.5, -0.5, -0.75, 0.25, 0, 1.5, 2.5, 3.25];
    const plain = passingBablok({ test: readings, reference });
    const moved = passingBablok({ test: readings.map((y) => y + 2), reference });
    expect(moved.slope).toEqual(plain.slope);
    for (const end of ["low", "value", "high"] as const) {
      expect(known(moved.intercept)[end]).toBeCloseTo(known(plain.intercept)[end] + 2, 12);
    }
  });

  test("row order is irrelevant", () => {
    const reversed = passingBablok({ test: mini.toReversed(), reference: large.toReversed() });
    expect(reversed).toEqual(passingBablok({ test: mini, reference: large }));
  });

  test("a curve is seen by the linearity test, a line is not", () => {
    const x = Array.from({ length: 60 }, (_, i) => 1 + i / 10);
    const wave = (i: number) => (((i * 7919) % 13) - 6) / 20;
    const line = passingBablok({ test: x.map((v, i) => v + wave(i)), reference: x });
    const curve = passingBablok({ test: x.map((v, i) => v * v + wave(i)), reference: x });
    const p = (r: typeof line) => (r.linearity.kind === "undefined" ? Number.NaN : r.linearity.p);
    expect(p(line)).toBeGreaterThan(0.05);
    expect(p(curve)).toBeLessThan(0.01);
  });

  test("two eyes a child are refused", () => {
    const data = { test: [1, 2, 3, 4], reference: [1, 2, 3, 5], subjects: ["a", "a", "b", "c"] };
    expect(() => passingBablok(data)).toThrow("one eye a child");
  });
});

describe("paired tests", () => {
  test("paired t: scipy 1.10.1 ttest_rel", () => {
    const r = pairedTTest({ test: large, reference: mini });
    expect(r.t).toBeCloseTo(-0.22523547656814485, 10);
    expect(r.p).toBeCloseTo(0.8246476735303766, 10);
    expect(r.df).toBe(16);
  });

  test("signed rank: scipy 1.10.1 wilcoxon, with ties and exact", () => {
    const r = signedRankTest({ test: large, reference: mini });
    expect(Math.min(r.positiveRanks, r.negativeRanks)).toBe(64);
    expect(r.p).toBeCloseTo(0.5699420417262624, 10);
    const exact = signedRankTest({
      test: [1.5, -2.1, 3.3, 4.7, -0.2, 6.1, 7.9],
      reference: [0, 0, 0, 0, 0, 0, 0],
    });
    expect(exact.method).toBe("exact");
    expect(exact.p).toBeCloseTo(0.109375, 12);
  });

  test("signed rank: differences of 0 are counted and take no rank, by hand", () => {
    const r = signedRankTest({ test: [1, 2, 3, 4, 7], reference: [1, 2, 2, 6, 4] });
    // differences 0, 0, 1, -2, 3: ranks 1, 2 and 3
    expect(r).toMatchObject({ n: 5, zeros: 2, positiveRanks: 4, negativeRanks: 2 });
  });

  test("signed rank by clusters: two identical eyes a child say no more than one", () => {
    const differences = [0.5, -0.25, 1, 0.75, 1.25, -1.5, 2, 0.1];
    const zeros = differences.map(() => 0);
    const twice = signedRankTest({
      test: [...differences, ...differences],
      reference: [...zeros, ...zeros],
      subjects: [...differences.keys(), ...differences.keys()],
    });
    // Sum of signed ranks over the root of their squares, by hand: ranks of |d| once.
    const ranks = [3, 2, 5, 4, 6, 7, 8, 1];
    const signed = differences.map((d, i) => Math.sign(d) * ranks[i]);
    // Twice the rows: midranks 2 r - 0.5, which is not twice r, so the statistic differs a little.
    const doubled = signed.map((s) => Math.sign(s) * (2 * Math.abs(s) - 0.5));
    const total = doubled.reduce((a, b) => a + b, 0);
    const root = Math.sqrt(doubled.reduce((a, b) => a + b * b, 0));
    expect(twice.z).toBeCloseTo(total / root, 10);
  });
});

/** The definition: every slope listed and sorted, shifted by the number below -1. */
function allSlopes(x: number[], y: number[]) {
  const slopes: number[] = [];
  let identical = 0;
  for (let i = 0; i < x.length; i++) {
    for (let j = i + 1; j < x.length; j++) {
      const [dx, dy] = [x[j] - x[i], y[j] - y[i]];
      if (dx === 0 && dy === 0) identical++;
      else if (dx === 0) slopes.push(Number.POSITIVE_INFINITY);
      else if (dy / dx !== -1) slopes.push(dy / dx);
    }
  }
  slopes.sort((a, b) => (a === b ? 0 : a - b));
  const shift = slopes.filter((slope) => slope < -1).length;
  const turned = [...slopes.slice(shift), ...slopes.slice(0, shift)];
  const count = turned.length;
  const n = x.length;
  const spread = 1.959963984540054 * Math.sqrt((n * (n - 1) * (2 * n + 5)) / 18);
  const rank = Math.round((count - spread) / 2);
  const at = (k: number) => turned[Math.max(1, Math.min(count, k)) - 1];
  const middle = count % 2 === 1 ? at((count + 1) / 2) : (at(count / 2) + at(count / 2 + 1)) / 2;
  return { slopes: count, identical, values: [at(rank), middle, at(count - rank + 1)] };
}
