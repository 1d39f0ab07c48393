import { describe, expect, it } from "vitest";
import {
  examinationWeights,
  limitsOfAgreement,
  weightedLimits,
} from "../../src/agreement/index.js";
import { tQuantile } from "../../src/inference/index.js";
import { createRandom } from "../../src/inference/random.js";
import { bootstrap } from "../../src/inference/resampling/bootstrap.js";
import { wrong } from "../builders/wrong.js";

interface Row {
  readonly test: number;
  readonly reference: number;
  readonly subject: number;
  readonly examined: boolean;
  readonly stratum: string;
}

/** An instrument without bias, SD 0.7 of one difference; half of it shared by the eyes of a child. */
function invented(children: number, seed: number): Row[] {
  const random = createRandom(seed);
  const rows: Row[] = [];
  for (let subject = 0; subject < children; subject++) {
    const shared = 0.7 * Math.SQRT1_2 * random.normal();
    for (let eye = 0; eye < 2; eye++) {
      const reference = 1 + random.normal();
      const test = reference + shared + 0.7 * Math.SQRT1_2 * random.normal();
      const stratum = test >= 2 ? "referred" : test >= 1 ? "near" : "passed";
      const share = { referred: 1, near: 0.4, passed: 0.2 }[stratum];
      const examined = random.uniform() < share;
      // nobody knows the finding of an unexamined eye
      rows.push({ test, reference: examined ? reference : Number.NaN, subject, examined, stratum });
    }
  }
  return rows;
}

function dataOf(rows: readonly Row[]) {
  return {
    test: rows.map(({ test }) => test),
    reference: rows.map(({ reference }) => reference),
    subjects: rows.map(({ subject }) => subject),
    examination: {
      examined: rows.map(({ examined }) => examined),
      strata: rows.map(({ stratum }) => stratum),
    },
  };
}

/** The same from known weights, by the other function of the room. */
function byKnownWeights(rows: readonly Row[]) {
  const { examination } = dataOf(rows);
  const weights = examinationWeights(examination);
  const seen = rows.map((_, row) => row).filter((row) => rows[row].examined);
  return weightedLimits({
    test: seen.map((row) => rows[row].test),
    reference: seen.map((row) => rows[row].reference),
    subjects: seen.map((row) => rows[row].subject),
    weights: seen.map((row) => weights[row]),
  });
}

const measures = ["bias", "sd", "lower", "upper"] as const;

function limitsOf(data: ReturnType<typeof dataOf>, options: { seed: number; replicates?: number }) {
  const found = weightedLimits(data, options);
  if (found.kind === "undefined") throw new Error(found.reason);
  return found;
}

describe("weightedLimits with examination", () => {
  const rows = invented(300, 4);
  const found = limitsOf(dataOf(rows), { seed: 2 });

  it("values are those of the estimated weights", () => {
    const known = byKnownWeights(rows);
    for (const name of measures) expect(found[name].value).toBeCloseTo(known[name].value, 10);
    expect(found.effectiveRows).toBeCloseTo(known.effectiveRows, 8);
    expect(found.amongExamined).toEqual(known.amongExamined);
    expect([found.n, found.subjects]).toEqual([known.n, known.subjects]);
  });

  // other children are drawn: quantiles of 2,000 replicates, twice
  it.each(measures)("%s: interval by another bootstrap", (name) => {
    const other = bootstrap((drawn: Row[]) => byKnownWeights(drawn)[name].value, {
      rows,
      subjects: rows.map(({ subject }) => subject),
      replicates: 600,
      seed: 9,
    });
    if (other.kind === "undefined") throw new Error(other.reason);
    expect(Math.abs(found[name].low - other.low)).toBeLessThan(0.35 * other.se!);
    expect(Math.abs(found[name].high - other.high)).toBeLessThan(0.35 * other.se!);
  });

  it("with everyone examined the values are the plain ones", () => {
    const all = rows.filter(({ examined }) => examined);
    const plain = limitsOfAgreement({
      test: all.map(({ test }) => test),
      reference: all.map(({ reference }) => reference),
    });
    const verified = limitsOf(dataOf(all), { seed: 1, replicates: 50 });
    for (const name of measures) expect(verified[name].value).toBeCloseTo(plain[name].value, 10);
  });

  it("says how it was resampled, as plain data, the same again", () => {
    expect(found.examination).toEqual({
      rows: 600,
      strata: 3,
      replicates: 2000,
      seed: 2,
      failed: 0,
    });
    expect(found.bias.method).toBe("cluster-bootstrap-percentile");
    expect(found.notes.join(" ")).toMatch(/only if examination was random/);
    expect(JSON.parse(JSON.stringify(found))).toEqual(found);
    expect(JSON.stringify(limitsOf(dataOf(rows), { seed: 2 }))).toBe(JSON.stringify(found));
  });

  // 120 cohorts of 150 children; with a coverage of .90 or more, fewer than 97 of 120 hold with
  // probability below .001 (binomial)
  it("holds the truth where the unweighted bias does not", { timeout: 60_000 }, () => {
    const truth = { bias: 0, sd: 0.7, lower: -0.7 * 1.959964, upper: 0.7 * 1.959964 };
    const held = { bias: 0, sd: 0, lower: 0, upper: 0 };
    let unweighted = 0;
    for (let cohort = 0; cohort < 120; cohort++) {
      const one = limitsOf(dataOf(invented(150, 1000 + cohort)), { seed: cohort, replicates: 300 });
      for (const name of measures) {
        if (one[name].low <= truth[name] && truth[name] <= one[name].high) held[name]++;
      }
      const { low, high } = one.amongExamined.bias;
      if (low <= 0 && 0 <= high) unweighted++;
    }
    for (const name of measures) expect(held[name]).toBeGreaterThanOrEqual(97);
    expect(unweighted).toBeLessThan(30);
  });

  it("is undefined where a stratum is often without an exam, and refuses what is faulty", () => {
    const data = dataOf(rows);
    // a stratum of two rows, one of them examined
    const seen = rows.findIndex(({ examined }) => examined);
    const rare = {
      ...data,
      examination: {
        examined: data.examination.examined.map((yes, row) => yes && row !== seen + 1),
        strata: rows.map(({ stratum }, row) =>
          row === seen || row === seen + 1 ? "rare" : stratum,
        ),
      },
    };
    expect(weightedLimits(rare, { seed: 1, replicates: 200 })).toMatchObject({
      kind: "undefined",
      reason: expect.stringContaining("join strata"),
    });
    const without = (examination: typeof data.examination) => () =>
      weightedLimits({ ...data, examination }, { seed: 1, replicates: 10 });
    expect(
      without({
        ...data.examination,
        examined: rows.map(({ stratum, examined }) => examined || stratum === "near"),
      }),
    ).toThrow("requires finite numbers in reference, got NaN");
    expect(
      without({
        strata: rows.map(({ stratum, examined }) => (examined ? stratum : "nobody")),
        examined: data.examination.examined,
      }),
    ).toThrow("an examined row in every stratum");
    expect(() => weightedLimits(data, {} as { seed: number })).toThrow(
      "a whole seed with examination, got undefined",
    );
    expect(() => weightedLimits(wrong({ test: [], reference: [] }))).toThrow(
      "weights or examination, got neither",
    );
  });
});

describe("weightedLimits with examination and sites", () => {
  const rows = invented(200, 6);
  // sizes differ, and readings are shifted by site
  const siteOf = ({ subject }: Row) => Math.floor((subject / 200) ** 1.4 * 7);
  const shifted = rows.map((row) => ({
    ...row,
    test: row.test + [0.3, -0.2, 0, 0.4, -0.4, 0.1, -0.1][siteOf(row)]!,
  }));
  const { subjects, ...data } = dataOf(shifted);
  const clusters = { subject: subjects, site: shifted.map(siteOf) };
  const found = weightedLimits({ ...data, clusters });
  if (found.kind === "undefined") throw new Error(found.reason);

  it("is the jackknife of the weighted limits, weights estimated anew without each site", () => {
    const weights = examinationWeights(data.examination);
    const shares = Array.from({ length: 7 }, (_, site) =>
      weights.reduce((sum, weight, row) => sum + (siteOf(rows[row]!) === site ? weight : 0), 0),
    );
    const effective = 400 ** 2 / shares.reduce((sum, share) => sum + share ** 2, 0);
    const quantile = tQuantile(0.975, effective - 1);
    for (const name of measures) {
      const left = Array.from(
        { length: 7 },
        (_, site) => byKnownWeights(shifted.filter((row) => siteOf(row) !== site))[name].value,
      );
      const mean = left.reduce((sum, one) => sum + one, 0) / 7;
      const squares = left.reduce((sum, one) => sum + (one - mean) ** 2, 0);
      const { value, low, high, method } = found[name];
      expect(value).toBeCloseTo(byKnownWeights(shifted)[name].value, 10);
      expect(high - value).toBeCloseTo(quantile * Math.sqrt((6 / 7) * squares), 9);
      expect(value - low).toBeCloseTo(high - value, 12);
      expect(method).toBe("site-jackknife");
    }
    expect(found).toMatchObject({ sites: 7, subjects: byKnownWeights(shifted).subjects });
    expect(found.examination).toEqual({ rows: 400, strata: 3 });
    expect(found.amongExamined).toMatchObject({ sites: 7 });
  });

  it("is wider than by child where sites differ", () => {
    const byChild = limitsOf({ ...data, subjects }, { seed: 3, replicates: 400 });
    expect(found.bias.high - found.bias.low).toBeGreaterThan(
      1.5 * (byChild.bias.high - byChild.bias.low),
    );
  });

  it("is undefined where one site stands for a stratum, or sites count as fewer than 2", () => {
    const alone = rows.map((row, at) =>
      siteOf(row) === 0 && data.examination.examined[at] ? "alone" : data.examination.strata[at]!,
    );
    expect(
      weightedLimits({ ...data, clusters, examination: { ...data.examination, strata: alone } }),
    ).toMatchObject({ kind: "weighted-limits" });
    const strata = alone.map((stratum, at) => (at > 390 ? "alone" : stratum));
    const examined = data.examination.examined.map((yes, at) => yes && at <= 390);
    expect(weightedLimits({ ...data, clusters, examination: { examined, strata } })).toMatchObject({
      kind: "undefined",
      reason: "without one of the sites there is no value",
    });
    const one = { ...clusters, site: rows.map((row) => Number(row.subject === 0)) };
    expect(weightedLimits({ ...data, clusters: one })).toMatchObject({
      kind: "undefined",
      reason: expect.stringContaining("fewer than 2 give no interval"),
    });
  });
});
