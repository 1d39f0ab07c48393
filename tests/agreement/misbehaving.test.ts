import { describe, expect, test } from "vitest";
import { brownForsythe } from "../../src/agreement/brownForsythe.js";
import {
  biasBy,
  calibrateReading,
  concordanceCorrelation,
  demingRegression,
  differenceRegression,
  limitsOfAgreement,
  nonparametricLimits,
  type PairedMeasurements,
  pairedTTest,
  passingBablok,
  predictFinding,
  regressionLimits,
  repeatability,
  signedRankTest,
  weightedLimits,
  withinDifference,
} from "../../src/agreement/index.js";
import { percentileLimit } from "../../src/agreement/limits/percentileLimits.js";
import { toleranceSquaredRadius } from "../../src/agreement/vectors/toleranceSquaredRadius.js";
import { createRandom } from "../../src/inference/index.js";
import { equivalents } from "./children.js";

/** Invented eyes on a 0.25 D grid: two a child, correlated, skewed, some gross errors. */
function invented(children: number, seed: number) {
  const random = createRandom(seed);
  const out = { test: [] as number[], reference: [] as number[], subjects: [] as string[] };
  for (let child = 0; child < children; child++) {
    const shared = 0.7 * random.normal();
    for (let eye = 0; eye < 2; eye++) {
      const reference = 2 * random.normal();
      const error = 0.5 * Math.exp(shared + 0.3 * random.normal()) - 0.4;
      const gross = random.uniform() < 0.015 ? 4 : 0;
      out.reference.push(Math.round(4 * reference) / 4);
      out.test.push(Math.round(4 * (reference + error + gross)) / 4);
      out.subjects.push(`c${child}`);
    }
  }
  return out;
}

describe("units without subjects cluster (they were ignored: coverage .76 to .79)", () => {
  const { subjects, ...pairs } = invented(120, 1);
  const calls: Record<string, (data: PairedMeasurements) => unknown> = {
    pairedTTest,
    signedRankTest,
    concordanceCorrelation,
    withinDifference,
    nonparametricLimits,
    regressionLimits,
    demingRegression: (data) => demingRegression(data, { errorRatio: 1 }),
    differenceRegression: (data) =>
      differenceRegression({ ...data, covariates: { reference: pairs.reference } }),
    "biasBy's test": (data) => biasBy(data, { label: "mean", breaks: [0] }).homogeneity,
  };
  for (const [name, call] of Object.entries(calls)) {
    test(name, () => {
      expect(call({ ...pairs, units: subjects })).toEqual(call({ ...pairs, subjects }));
      expect(call({ ...pairs, units: subjects })).not.toEqual(call(pairs));
    });
  }

  test("passingBablok refuses them, naming both", () => {
    expect(() => passingBablok({ ...pairs, units: subjects })).toThrow(
      "requires independent rows, got subjects or units that repeat",
    );
  });
});

describe("percentile limits", () => {
  test("children data, right eyes: -1.82 and 3.25 where bias ± SDs say -3.09 and 2.67", () => {
    const pairs = equivalents("screener_pre", "OD");
    const r = limitsOfAgreement(pairs, { conditional: "skip" });
    if (r.percentile?.kind !== "percentile-limits") throw new Error("none");
    const { lower, upper } = r.percentile;
    expect([lower.value?.toFixed(2), upper.value?.toFixed(2)]).toEqual(["-1.82", "3.25"]);
    expect([r.outside.below, r.outside.above]).toEqual([5, 22]);
    expect(r.leads).toBe("percentile");
    expect(r.excessKurtosis).toBeGreaterThan(30);
  });

  test("146 effective rows: 95 %; 103 to 145: .975 - .975^m; below: the inner end alone", () => {
    const at = (n: number) => percentileLimit({ at: (rank) => rank, n }, 0.025, 0.95);
    expect(at(146)).toMatchObject({ kind: "estimate", level: 0.95, low: 1 });
    expect(at(145)).toMatchObject({ kind: "estimate", low: 1, level: 0.975 - 0.975 ** 145 });
    expect(at(103)).toMatchObject({ kind: "estimate", low: 1, level: 0.975 - 0.975 ** 103 });
    expect(at(102)).toMatchObject({ kind: "one-sided", low: null, level: 0.975 });
  });

  test("swapping test and reference mirrors both limits, two eyes a child too", () => {
    const { test: a, reference: b, subjects } = invented(90, 7);
    const one = nonparametricLimits({ test: a, reference: b, subjects });
    const other = nonparametricLimits({ test: b, reference: a, subjects });
    expect(one.lower.kind).toBe("estimate");
    expect([one.lower.value, one.lower.low, one.lower.high]).toEqual(
      [other.upper.value, other.upper.high, other.upper.low].map((end) => 0 - end!),
    );
  });

  test("they hold where the exact interval does not (short form of the coverage grid)", () => {
    const truth = -0.4 + 0.5 * Math.exp(1.959964 * Math.hypot(0.7, 0.3));
    const holds = { normal: 0, percentile: 0 };
    for (let seed = 0; seed < 150; seed++) {
      const r = limitsOfAgreement(skewed(150, seed), { normality: "skip" });
      if (r.upper.low <= truth && truth <= r.upper.high) holds.normal++;
      const upper = r.percentile.kind === "percentile-limits" && r.percentile.upper;
      if (upper && upper.kind === "estimate" && upper.low <= truth && truth <= upper.high) {
        holds.percentile++;
      }
    }
    // .955 and more from 145 effective rows on; 150 samples: three binomial errors below .95.
    expect(holds.percentile).toBeGreaterThan(150 * (0.95 - 3 * 0.018));
    expect(holds.normal).toBeLessThan(150 * 0.8);
  });
});

/** Skewed differences, two eyes a child, not rounded, so that the truth is known. */
function skewed(children: number, seed: number) {
  const random = createRandom(seed, 5);
  const test: number[] = [];
  const subjects: number[] = [];
  for (let child = 0; child < children; child++) {
    const shared = 0.7 * random.normal();
    for (let eye = 0; eye < 2; eye++) {
      test.push(0.5 * Math.exp(shared + 0.3 * random.normal()) - 0.4);
      subjects.push(child);
    }
  }
  return { test, reference: test.map(() => 0), subjects };
}

describe("conditional limits", () => {
  test("never cross: on the children data they end where the spread would reach 0", () => {
    const pairs = equivalents("screener_pre", "both");
    const r = regressionLimits(pairs, { at: [-8, 0, 4, 20] });
    for (const { lower, upper } of r.points) {
      if (lower.kind === "estimate") expect(lower.value).toBeLessThan(upper.value!);
    }
    const crossing = -r.spreadIntercept.value / r.spreadSlope.value;
    const beyond = r.spreadSlope.value < 0 ? crossing + 1 : crossing - 1;
    const [far] = regressionLimits(pairs, { at: [beyond] }).points;
    expect(far.lower).toMatchObject({ kind: "undefined" });
    expect(far.upper).toMatchObject({ kind: "undefined" });
    expect(far.bias.kind).toBe("estimate");
  });

  test("stand beside from 100 children on, else the reason", () => {
    const many = limitsOfAgreement(skewed(100, 1)).conditional;
    expect(many.kind).toBe("undefined");
    expect(limitsOfAgreement(invented(100, 1)).conditional.kind).toBe("regression-limits");
    expect(limitsOfAgreement(invented(99, 1)).conditional).toEqual({
      kind: "undefined",
      reason: "99 children: conditional limits need at least 100",
    });
  });
});

describe("homogeneity of bias", () => {
  test("with two groups it is Welch's t squared (scipy 1.10.1 ttest_ind, equal_var=False)", () => {
    const r = brownForsythe([
      { group: "a", values: [1, 2, 4, 7, 9] },
      { group: "b", values: [3, 3.5, 2, 8, 12, 15, 9] },
    ]);
    if (r.kind === "undefined") throw new Error(r.reason);
    expect(r.f).toBeCloseTo(1.469178936860494, 12);
    expect(r.df[0]).toBeCloseTo(1, 12);
    expect(r.df[1]).toBeCloseTo(9.998877392378454, 10);
    expect(r.p).toBeCloseTo(0.2533387007362779, 10);
  });

  test("two eyes a child: rejects at most as often as it says (the Wald test: .14 to .93)", () => {
    let rejected = 0;
    for (let seed = 0; seed < 200; seed++) {
      const data = invented(60, 1000 + seed);
      const by = data.subjects.map((child) => Number(child.slice(1)) % 6);
      const { homogeneity } = biasBy({ ...data, by }, { label: "class", normality: "skip" });
      if (homogeneity.kind === "undefined") throw new Error(homogeneity.reason);
      if (homogeneity.p < 0.05) rejected++;
    }
    // Size at most .055: 200 samples, three binomial errors above.
    expect(rejected / 200).toBeLessThan(0.055 + 3 * 0.016);
  });

  test("groups of fewer than 4 children are refused, by name", () => {
    const data = { test: [1, 2, 3, 4, 5, 6, 7, 8], reference: [1, 1, 2, 3, 3, 5, 6, 8] };
    const { homogeneity } = biasBy({ ...data, by: [..."aaaaabbb"] }, { label: "site" });
    expect(homogeneity).toMatchObject({ reason: expect.stringContaining('in "b"') });
  });

  test("groups of one of the measurements say regression to the mean; the default is the mean", () => {
    const pairs = equivalents("screener_pre", "both");
    const groups = (by: "mean" | "test" | "reference") =>
      biasBy({ ...pairs, by }, { label: by, breaks: [-6, -3, 0], normality: "skip" });
    expect(groups("reference").notes[0]).toContain("regression to the mean");
    expect(biasBy({ ...pairs, by: pairs.test }, { label: "x", breaks: [0] }).notes).toHaveLength(1);
    expect(groups("mean").notes).toEqual([]);
    const { by: _, ...plain } = { ...pairs, by: 0 };
    const byDefault = biasBy(plain, { label: "mean", breaks: [-6, -3, 0], normality: "skip" });
    expect(byDefault).toEqual(groups("mean"));
    // +2.69 below -6 D and -1.37 above 0 by the exam; +2.02 and -0.37 by the mean (own computation).
    const ends = (by: "mean" | "reference") =>
      [0, 3].map((at) => groups(by).groups[at].bias.value?.toFixed(2));
    expect(ends("reference")).toEqual(["2.69", "-1.37"]);
    expect(ends("mean")).toEqual(["2.02", "-0.37"]);
  });
});

describe("predictFinding", () => {
  test("limits follow the range of the reading, and their coverage is measured there", () => {
    const random = createRandom(3);
    const draw = (n: number) => {
      const test = Array.from({ length: n }, () => 4 * random.uniform() - 2);
      // Errors three times as wide among the hyperopic.
      const reference = test.map((x) => x + (x > 1 ? 0.9 : 0.3) * random.normal());
      return { test, reference };
    };
    const fitted = calibrateReading(draw(1000));
    const fresh = draw(4000);
    for (const [from, to] of [
      [-2, 0],
      [1.3, 1.9],
    ]) {
      const held = fresh.test.map((x, row) => {
        if (!(x > from && x < to)) return null;
        const predicted = predictFinding(fitted, { test: x });
        if (predicted.kind === "undefined") return null;
        const finding = fresh.reference[row];
        return predicted.low! <= finding && finding <= predicted.high!;
      });
      const inRange = held.filter((one) => one !== null);
      const share = inRange.filter(Boolean).length / inRange.length;
      expect(share).toBeGreaterThan(0.92);
      expect(share).toBeLessThan(0.985);
    }
    for (const { coverage } of fitted.ranges) {
      if (coverage.kind === "undefined") throw new Error(coverage.reason);
      expect(coverage.value).toBeGreaterThan(0.9);
    }
  });

  test("too few children: no limits rather than normal ones", () => {
    const test = Array.from({ length: 20 }, (_, row) => row / 4);
    const reference = test.map((x, row) => x + ((row * 7) % 5) / 10);
    const predicted = predictFinding(calibrateReading({ test, reference }), { test: 1 });
    expect(predicted).toMatchObject({ low: null, high: null });
  });
});

test("repeatability where children differ in their SD: the chi-square interval covers .80 and less", () => {
  const truth = Math.exp(0.25);
  const covered = { jackknife: 0, "chi-square": 0 };
  for (let seed = 0; seed < 200; seed++) {
    const random = createRandom(seed, 11);
    const values: number[] = [];
    const units: number[] = [];
    for (let child = 0; child < 60; child++) {
      const sd = Math.exp(0.5 * random.normal());
      for (let reading = 0; reading < 3; reading++) {
        values.push(sd * random.normal());
        units.push(child);
      }
    }
    for (const interval of ["jackknife", "chi-square"] as const) {
      const { withinSd } = repeatability({ values, units }, { interval });
      if (withinSd.kind === "undefined") throw new Error(withinSd.reason);
      if (withinSd.low <= truth && truth <= withinSd.high) covered[interval]++;
    }
  }
  // Own simulation of 4,000: .917 and .69; three binomial errors.
  expect(covered.jackknife / 200).toBeGreaterThan(0.917 - 3 * 0.02);
  expect(covered["chi-square"] / 200).toBeLessThan(0.69 + 3 * 0.033);
});

test("two seeds of a tolerance radius differ by what its Monte Carlo error says", () => {
  const radius = (seed: number) =>
    toleranceSquaredRadius(
      { n: 10, dimensions: 2, content: 0.95, confidence: 0.95 },
      { replicates: 400, seed },
    );
  const [one, other] = [radius(1), radius(2)];
  const error = Math.hypot(one.monteCarloError, other.monteCarloError);
  expect(Math.abs(one.squaredRadius - other.squaredRadius)).toBeLessThan(4 * error);
  expect(one.monteCarloError).toBeGreaterThan(0.1);
});

test("rows of one child: never a NaN", () => {
  const data = { test: [1, 2, 4, 3], reference: [1, 1, 2, 2], subjects: ["a", "a", "a", "a"] };
  const results = [
    pairedTTest(data),
    signedRankTest(data),
    withinDifference(data),
    nonparametricLimits(data),
    repeatability({ values: data.test, units: [1, 1, 2, 2], subjects: data.subjects }),
    biasBy({ ...data, by: [..."xxyy"] }, { label: "x" }),
  ];
  for (const result of results) {
    const seen: number[] = [];
    JSON.stringify(result, (_, value) => {
      if (typeof value === "number") seen.push(value);
      return value;
    });
    expect(seen.every(Number.isFinite)).toBe(true);
  }
  expect(pairedTTest(data)).toMatchObject({ df: null, difference: { kind: "undefined" } });
});

test("readings at an end of the range: limits with and without", () => {
  const { test, reference } = equivalents("screener_pre", "OD");
  const endOfRange = test.map((value) => Math.abs(value) >= 7.5);
  const r = limitsOfAgreement({ test, reference, endOfRange }, { conditional: "skip" });
  const kept = test.flatMap((value, row) =>
    (endOfRange[row] ? [] : [row]).map(() => row + 0 * value),
  );
  const alone = limitsOfAgreement(
    { test: kept.map((row) => test[row]), reference: kept.map((row) => reference[row]) },
    { conditional: "skip" },
  );
  if (r.withoutEndOfRange?.kind === "undefined") throw new Error(r.withoutEndOfRange.reason);
  expect(r.withoutEndOfRange?.leftOut).toBe(test.length - kept.length);
  expect(r.withoutEndOfRange?.lower).toEqual(alone.lower);
  expect(() => limitsOfAgreement({ test, reference, endOfRange: [1] })).toThrow(
    "requires endOfRange for each of",
  );
});

describe("sites above children", () => {
  const site = Array.from({ length: 240 }, (_, row) => Math.floor(row / 2) % 12);
  const { test: reading, reference, subjects } = invented(120, 4);
  const shifted = reading.map((value, row) => value + 0.3 * Math.sin(site[row] * 5));
  const data = { test: shifted, reference, clusters: { subject: subjects, site } };

  test("limits, their slope and share, the t-test, shares, correlation, Deming, repeatability", () => {
    const r = limitsOfAgreement(data);
    expect(r).toMatchObject({ interval: "site-jackknife", sites: 12, subjects: 120 });
    for (const one of [r.bias, r.sd, r.lower, r.upper, r.slope]) {
      expect(one).toMatchObject({ method: "site-jackknife" });
    }
    const plain = limitsOfAgreement({ test: shifted, reference, subjects });
    expect(r.bias.value).toBe(plain.bias.value);
    expect(r.bias.high - r.bias.low).toBeGreaterThan(plain.bias.high - plain.bias.low);
    expect(pairedTTest(data).difference.value).toBeCloseTo(r.bias.value, 12);
    expect(pairedTTest(data).df).toBeCloseTo(11, 10);
    expect(withinDifference(data).shares[1].within).toMatchObject({ method: "site-jackknife" });
    expect(concordanceCorrelation(data).estimate).toMatchObject({ method: "site-jackknife" });
    expect(demingRegression(data, { errorRatio: 1 }).slope).toMatchObject({
      method: "site-jackknife",
    });
  });

  test("signed ranks: every way of the sites' signs, by recursion", () => {
    const { test: first, reference: second } = data;
    const sizes = first.map((value, row) => Math.abs(value - second[row]));
    const kept = sizes.flatMap((size, row) => (size > 0 ? [row] : []));
    const rank = (row: number) =>
      kept.filter((other) => sizes[other] < sizes[row] - 1e-9).length +
      (kept.filter((other) => Math.abs(sizes[other] - sizes[row]) <= 1e-9).length + 1) / 2;
    const labels = [...new Set(site)];
    const sums = labels.map((label) =>
      kept
        .filter((row) => site[row] === label)
        .reduce((sum, row) => sum + Math.sign(first[row] - second[row]) * rank(row), 0),
    );
    const ways = (from: number): number[] =>
      from === sums.length
        ? [0]
        : ways(from + 1).flatMap((sum) => [sum + sums[from], sum - sums[from]]);
    const seen = Math.abs(sums.reduce((sum, one) => sum + one, 0));
    const far = ways(0).filter((sum) => Math.abs(sum) >= seen - 1e-6).length;
    const found = signedRankTest(data);
    expect(found.p).toBeCloseTo(far / 2 ** sums.length, 12);
    expect(found).toMatchObject({ method: "exact-sites", sites: labels.length });
  });

  test("signed ranks with sites reject at most as often as they say; by child much more often", () => {
    const random = createRandom(77);
    const rejected = { clusters: 0, subjects: 0 };
    for (let sample = 0; sample < 200; sample++) {
      const of = Array.from({ length: 160 }, (_, row) => row % 8);
      const shifts = Array.from({ length: 8 }, () => 0.4 * random.normal());
      const test = of.map((label) => shifts[label] + 0.6 * random.normal());
      const reference = test.map(() => 0);
      const subject = of.map((_, row) => row);
      if (signedRankTest({ test, reference, clusters: { subject, site: of } }).p <= 0.05) {
        rejected.clusters++;
      }
      if (signedRankTest({ test, reference }).p <= 0.05) rejected.subjects++;
    }
    // Three binomial errors above .05.
    expect(rejected.clusters / 200).toBeLessThan(0.05 + 3 * 0.0154);
    expect(rejected.subjects / 200).toBeGreaterThan(0.25);
  });

  test("weighted rows of weight 1 in sites of one size: the bias of the jackknife", () => {
    const even = Array.from({ length: 240 }, (_, row) => row);
    const random = createRandom(78);
    const rows = {
      test: even.map((row) => (row % 12) / 20 + random.normal()),
      reference: even.map(() => 0),
      clusters: { subject: even, site: even.map((row) => row % 12) },
    };
    const { bias, sites: count } = weightedLimits({ ...rows, weights: even.map(() => 1) });
    const jackknife = limitsOfAgreement(rows, { conditional: "skip" }).bias;
    expect(bias.low).toBeCloseTo(jackknife.low, 10);
    expect(bias.high).toBeCloseTo(jackknife.high, 10);
    expect(bias.method).toBe("linearised-sites");
    expect(count).toBe(12);
    const examination = { examined: even.map(() => 1), strata: even.map((row) => row % 2) };
    // all examined: estimated weights are those of 1
    const estimated = weightedLimits({ ...rows, examination });
    if (estimated.kind === "undefined") throw new Error(estimated.reason);
    expect(estimated.bias.low).toBeCloseTo(jackknife.low, 10);
  });

  test("a child in two sites, subjects beside clusters, and analyses without sites are refused", () => {
    const split = { ...data, clusters: { subject: subjects, site: site.map((_, row) => row % 3) } };
    expect(() => limitsOfAgreement(split)).toThrow("requires each child in one site");
    expect(() => limitsOfAgreement({ ...data, subjects })).toThrow(
      "subjects or clusters, got both",
    );
    expect(() => limitsOfAgreement(data, { interval: "mover" })).toThrow('got "mover"');
  });
});
