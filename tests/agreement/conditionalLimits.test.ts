import fc from "fast-check";
import { describe, expect, test } from "vitest";
import { limitsOfAgreement, regressionLimits } from "../../src/agreement/index.js";
import { createRandom } from "../../src/inference/index.js";

/** Straight bias and spread, a share of gross errors, `eyes` a child that share half of their variance. */
function invented(children: number, eyes: number, seed: number, share = 0.015) {
  const random = createRandom(seed, 3);
  const rows = { test: [] as number[], reference: [] as number[] };
  const subjects: number[] = [];
  for (let child = 0; child < children; child++) {
    const magnitude = 1 + 1.6 * random.normal();
    const shared = random.normal();
    for (let eye = 0; eye < eyes; eye++) {
      const error = eyes === 1 ? shared : (shared + random.normal()) / Math.SQRT2;
      const gross = random.uniform() < share ? 5 : 0;
      const own = magnitude + 0.3 * eye;
      const difference = biasAt(own) + spreadAt(own) * (error + gross);
      rows.test.push(own + difference / 2);
      rows.reference.push(own - difference / 2);
      subjects.push(child);
    }
  }
  return { ...rows, subjects };
}
const biasAt = (x: number) => -0.2 + 0.15 * (x - 1);
const spreadAt = (x: number) => 0.6 * (1 + 0.1 * (x - 1));

describe("errors of the lines", () => {
  test.each([1, 2])("the slope has the interval of the one line there is (%i eyes)", (eyes) => {
    const { subjects, ...pairs } = invented(120, eyes, 1);
    const data = eyes === 1 ? pairs : { ...pairs, subjects };
    const { slope } = limitsOfAgreement(data, { conditional: "skip" });
    const found = regressionLimits(data).slope;
    expect(found.method).toBe(slope.method);
    for (const end of ["value", "low", "high", "se"] as const) {
      expect(found[end]).toBeCloseTo(slope[end]!, 10);
    }
  });

  test.each([1, 2])("the spread's slope: delete one child at a time (%i eyes)", (eyes) => {
    const data = invented(300, eyes, 2);
    const { se } = regressionLimits(data).spreadSlope;
    const without = Array.from({ length: 300 }, (_, child) => {
      const keep = data.subjects.flatMap((one, row) => (one === child ? [] : [row]));
      const pick = (column: number[]) => keep.map((row) => column[row]);
      return regressionLimits({
        test: pick(data.test),
        reference: pick(data.reference),
        subjects: pick(data.subjects),
      }).spreadSlope.value;
    });
    const mean = without.reduce((sum, one) => sum + one, 0) / 300;
    const jackknife = Math.sqrt(
      (299 / 300) * without.reduce((sum, one) => sum + (one - mean) ** 2, 0),
    );
    // Linearised against left out: the difference is of the order of a row's leverage.
    expect(se! / jackknife).toBeGreaterThan(0.95);
    expect(se! / jackknife).toBeLessThan(1.03);
  });
});

describe("limits", () => {
  const at = [-1, 1, 3];

  test("as wide as the limits of redrawn children say (bootstrap, 1.96 SDs)", () => {
    const data = invented(1000, 2, 4, 0);
    const random = createRandom(9);
    const drawn = Array.from({ length: 200 }, () => {
      const rows = Array.from({ length: 1000 }, () => random.integer(1000)).flatMap((child) => [
        2 * child,
        2 * child + 1,
      ]);
      const pick = (column: number[]) => rows.map((row) => column[row]);
      return regressionLimits({ test: pick(data.test), reference: pick(data.reference) }, { at });
    });
    for (const [place, point] of regressionLimits(data, { at }).points.entries()) {
      for (const side of ["lower", "upper"] as const) {
        const values = drawn.map(({ points }) => points[place][side].value!);
        const mean = values.reduce((sum, one) => sum + one, 0) / values.length;
        const sd = Math.sqrt(values.reduce((sum, one) => sum + (one - mean) ** 2, 0) / 199);
        const ratio = (point[side].high! - point[side].low!) / (2 * 1.96 * sd);
        // 200 resamples: an SD is known to a twentieth; order statistics are a little wider.
        expect(ratio).toBeGreaterThan(0.8);
        expect(ratio).toBeLessThan(1.5);
      }
    }
  });

  test("hold where bias and spread are straight (short form of the coverage grid)", () => {
    const truth = (x: number, quantile: number) => biasAt(x) + spreadAt(x) * quantile;
    // 97.5 % of 98.5 % normal errors and 1.5 % that are 5 higher: by bisection.
    const upper = 2.3186;
    let [held, bands, given] = [0, 0, 0];
    for (let seed = 0; seed < 200; seed++) {
      const r = regressionLimits(invented(250, 1, 100 + seed), { at });
      for (const point of r.points) {
        const wanted = truth(point.at, upper);
        if (point.upper.low! <= wanted && wanted <= point.upper.high!) held++;
      }
      if (r.band.kind === "undefined") continue;
      given++;
      if (
        r.band.points.every(
          (one) => one.upper[0] <= truth(one.at, upper) && truth(one.at, upper) <= one.upper[1],
        )
      ) {
        bands++;
      }
    }
    // Three binomial errors below .95; three places of one sample count as one.
    expect(held / 600).toBeGreaterThan(0.95 - 3 * 0.0154);
    expect(given).toBe(200);
    expect(bands / 200).toBeGreaterThan(0.95 - 3 * 0.0154);
  });

  test("the level that is printed falls with the rows: 250, 200, 150, 120, 101", () => {
    const kinds = [250, 200, 150, 120, 101].map((children) => {
      const { points, band } = regressionLimits(invented(children, 1, 5), { at: [1] });
      const [{ lower }] = points;
      return [
        lower.kind,
        lower.level?.toFixed(3),
        band.kind === "undefined" ? "none" : band.level.toFixed(3),
      ];
    });
    const normal = 1 - 0.0066035; // P(|z| < 2.7162), whose square is -2 ln .025
    const left = (n: number) => 0.95 - 2 * (0.975 ** n - (1 - normal) / 2);
    expect(kinds).toEqual([
      ["estimate", "0.950", "0.950"],
      ["estimate", "0.950", left(200).toFixed(3)],
      ["estimate", "0.950", "none"],
      ["estimate", (0.975 - 0.975 ** 120).toFixed(3), "none"],
      ["one-sided", "0.975", "none"],
    ]);
  });

  test("mirror when test and reference change places; move and stretch with the unit", () => {
    const { test: first, reference: second, subjects } = invented(160, 2, 6);
    const one = regressionLimits({ test: first, reference: second, subjects }, { at });
    const other = regressionLimits({ test: second, reference: first, subjects }, { at });
    fc.assert(
      fc.property(
        fc.double({ min: 0.1, max: 10, noNaN: true }),
        fc.double({ min: -5, max: 5, noNaN: true }),
        (factor, shift) => {
          const moved = regressionLimits(
            {
              test: first.map((x) => factor * x + shift),
              reference: second.map((x) => factor * x + shift),
              subjects,
            },
            { at: at.map((x) => factor * x + shift) },
          );
          for (const [k, { lower, upper }] of one.points.entries()) {
            expect(moved.points[k].lower.low!).toBeCloseTo(factor * lower.low!, 6);
            expect(moved.points[k].upper.high!).toBeCloseTo(factor * upper.high!, 6);
          }
        },
      ),
      { numRuns: 20 },
    );
    for (const [k, { lower, upper }] of one.points.entries()) {
      const swapped = other.points[k];
      expect(swapped.lower.low).toBeCloseTo(-upper.high!, 8);
      expect(swapped.upper.low).toBeCloseTo(-lower.high!, 8);
    }
  });

  test("differences on their line have no spread", () => {
    const test = Array.from({ length: 120 }, (_, row) => row / 10);
    const reference = test.map((x) => 0.9 * x + 0.1);
    expect(() => regressionLimits({ test, reference })).toThrow("differences off their line");
    expect(limitsOfAgreement({ test, reference }).conditional).toMatchObject({
      reason: expect.stringContaining("line"),
    });
  });
});

describe("sites", () => {
  const { subjects, ...pairs } = invented(240, 2, 8);
  const bySites = (count: number) =>
    regressionLimits({
      ...pairs,
      clusters: { subject: subjects, site: subjects.map((child) => child % count) },
    });

  test("slope as the limits of agreement have it; rough below 5, none below 2, a band from 20", () => {
    const clusters = { subject: subjects, site: subjects.map((child) => child % 24) };
    const { slope, conditional } = limitsOfAgreement({ ...pairs, clusters });
    if (conditional.kind === "undefined") throw new Error(conditional.reason);
    expect(conditional.slope).toEqual(slope);
    expect(conditional.sites).toBe(24);
    expect(conditional.spreadSlope.method).toBe("t-sites");
    expect(bySites(24).band.kind).toBe("conditional-band");
    expect(bySites(8).band).toMatchObject({ reason: expect.stringContaining("count as 8.0") });
    expect(bySites(4).spreadSlope.method).toBe("t-sites-rough");
    expect(bySites(4).points[2].lower.method).toBe("order-statistics-and-lines-rough");
    expect(() => bySites(1)).toThrow("sites that count as 2 or more, got 1");
  });
});
