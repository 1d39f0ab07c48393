import { readFileSync } from "node:fs";
import fc from "fast-check";
import { describe, expect, it } from "vitest";
import {
  clusteredAccuracy,
  compareIndependentAccuracy,
  compareIndependentProportions,
  comparePairedAccuracy,
  comparePairedProportions,
  nonInferiority,
  relativeRates,
} from "../../src/accuracy/index.js";
import { createRandom } from "../../src/inference/index.js";
import { known } from "../known.js";

const reference = JSON.parse(
  readFileSync(new URL("../reference/accuracy/comparisons.json", import.meta.url), "utf8"),
) as {
  mcnemar: [number, number, number, number, number, number][];
  independent: [number, number, number, number, number, number][];
};

describe("comparePairedProportions", () => {
  // Newcombe RG, Stat Med 1998;17:2635-2650, Table III, method 10 (seen, secondary): all 18 rows
  it.each([
    [36, 12, 2, 0, 0.0569, 0.3404],
    [20, 12, 2, 16, 0.0562, 0.3292],
    [18, 12, 2, 18, 0.0562, 0.329],
    [36, 14, 0, 0, 0.1528, 0.4167],
    [35, 14, 0, 1, 0.1461, 0.4175],
    [18, 14, 0, 18, 0.1441, 0.3963],
    [2, 97, 1, 0, 0.8721, 0.9854],
    [1, 97, 1, 1, 0.8736, 0.985], // .87367: as quoted it is cut, not rounded
    [0, 29, 1, 0, 0.6666, 0.9882],
    [2, 98, 0, 0, 0.9178, 0.9945],
    [1, 98, 0, 1, 0.9171, 0.9916],
    [0, 30, 0, 0, 0.8395, 1],
    [54, 0, 0, 0, -0.0664, 0.0664],
    [53, 0, 0, 1, -0.0729, 0.0729],
    [30, 0, 0, 24, -0.0358, 0.0358],
    [29, 0, 0, 25, -0.0354, 0.0354],
    [28, 0, 0, 26, -0.0352, 0.0352],
    [27, 0, 0, 27, -0.0351, 0.0351],
  ])("Newcombe 1998: %i %i %i %i", (both, firstOnly, secondOnly, neither, low, high) => {
    const { difference } = comparePairedProportions({ both, firstOnly, secondOnly, neither });
    // half a unit of the last digit; one unit for the one limit that is cut
    const tolerance = low === 0.8736 ? 0.0001 : 0.00005;
    expect(Math.abs(known(difference).low - low)).toBeLessThanOrEqual(tolerance);
    expect(Math.abs(known(difference).high - high)).toBeLessThanOrEqual(0.00005);
  });

  // Tango T, Stat Med 1998;17:891-908; Agresti A, Min Y, Biostatistics 2005 (seen)
  it.each([
    [4, 9, 3, 16, 0.95, -0.027, 0.39],
    [43, 0, 1, 0, 0.9, -0.096, 0.037],
    [53, 16, 8, 9, 0.95, -0.02, 0.207],
    [1, 1, 7, 12, 0.95, -0.517, -0.026], // Fagerland, Lydersen and Laake 2013 (seen)
  ])("Tango: %i %i %i %i", (both, firstOnly, secondOnly, neither, level, low, high) => {
    const { difference } = comparePairedProportions(
      { both, firstOnly, secondOnly, neither },
      { interval: "tango", level },
    );
    expect(Number(known(difference).low.toFixed(3))).toBe(low);
    expect(Number(known(difference).high.toFixed(3))).toBe(high);
  });

  // tests/reference/accuracy/paired.R: likelihood maximised numerically, to about 1e-8
  it.each([
    [4, 9, 3, 16, -0.02709046536, 0.38969748741],
    [53, 16, 8, 9, -0.01965892351, 0.2069107702],
    [1, 1, 7, 12, -0.51723227727, -0.02600303002],
    [40, 20, 12, 30, -0.03135638473, 0.18819965618],
  ])(
    "Tango by R's numerical likelihood: %i %i %i %i",
    (both, firstOnly, secondOnly, neither, low, high) => {
      const { difference } = comparePairedProportions(
        { both, firstOnly, secondOnly, neither },
        { interval: "tango" },
      );
      expect(known(difference).low).toBeCloseTo(low, 6);
      expect(known(difference).high).toBeCloseTo(high, 6);
    },
  );

  // Fagerland, Lydersen and Laake 2013: .034, .070, .039, values from memory
  it("21 children: asymptotic, exact and mid-p", () => {
    const result = comparePairedProportions({ both: 1, firstOnly: 1, secondOnly: 7, neither: 12 });
    const shown = [result.pAsymptotic, result.pExact, result.pMid].map((p) => p.toFixed(3));
    expect(shown).toEqual(["0.034", "0.070", "0.039"]);
  });

  it("statsmodels and scipy: McNemar by chi-square, exact and mid-p", () => {
    for (const [firstOnly, secondOnly, chiSquare, pAsymptotic, pExact, pMid] of reference.mcnemar) {
      const result = comparePairedProportions({ both: 10, firstOnly, secondOnly, neither: 20 });
      expect(result.chiSquare).toBeCloseTo(chiSquare, 10);
      expect(result.pAsymptotic).toBeCloseTo(pAsymptotic, 10);
      expect(result.pExact).toBeCloseTo(pExact, 10);
      expect(result.pMid).toBeCloseTo(pMid, 10);
    }
  });

  // Fagerland, Lydersen and Laake 2013: with b = c the mid-p is 1 - P(X = b) / 2; binomials by hand:
  // 2 of 2^2 ways, 6 of 2^4, 252 of 2^10
  it("mid-p where both splits are equal", () => {
    for (const [each, pMid] of [
      [1, 1 - 2 / 4 / 2],
      [2, 1 - 6 / 16 / 2],
      [5, 1 - 252 / 1024 / 2],
    ]) {
      const counts = { both: 3, firstOnly: each, secondOnly: each, neither: 4 };
      expect(comparePairedProportions(counts).pMid).toBeCloseTo(pMid, 12);
      expect(comparePairedProportions(counts).pExact).toBe(1);
    }
  });

  it("mid-p by definition: splits less likely, and half of those as likely", () => {
    for (let n = 1; n <= 30; n++) {
      const chance = [0.5 ** n];
      for (let x = 1; x <= n; x++) chance.push((chance[x - 1] * (n - x + 1)) / x);
      let mean = 0;
      for (let b = 0; b <= n; b++) {
        const alike = chance[b] * (1 + 1e-9);
        const below = chance.filter((p) => p < chance[b] * (1 - 1e-9));
        const same = chance.filter((p) => p <= alike && p >= chance[b] * (1 - 1e-9));
        const sum = (list: number[]) => list.reduce((total, p) => total + p, 0);
        const { pMid } = comparePairedProportions({
          both: 0,
          firstOnly: b,
          secondOnly: n - b,
          neither: 0,
        });
        expect(pMid).toBeCloseTo(sum(below) + sum(same) / 2, 10);
        mean += chance[b] * pMid;
      }
      // a mid-p is 1/2 on average when the two rates are equal
      expect(mean).toBeCloseTo(0.5, 10);
    }
  });

  it("swapping the two mirrors the difference and keeps the tests", () => {
    const cell = fc.integer({ min: 0, max: 40 });
    fc.assert(
      fc.property(cell, cell, cell, fc.integer({ min: 1, max: 40 }), (e, f, g, h) => {
        for (const method of ["newcombe", "tango"] as const) {
          const one = comparePairedProportions(
            { both: e, firstOnly: f, secondOnly: g, neither: h },
            { interval: method },
          );
          const other = comparePairedProportions(
            { both: e, firstOnly: g, secondOnly: f, neither: h },
            { interval: method },
          );
          expect(known(other.difference).low).toBeCloseTo(-known(one.difference).high, 9);
          expect(other.pMid).toBe(one.pMid);
          expect(known(one.difference).low).toBeGreaterThanOrEqual(-1);
          expect(known(one.difference).low).toBeLessThanOrEqual(
            known(one.difference).value + 1e-12,
          );
        }
      }),
    );
  });

  it("no pairs: undefined; negative counts: an error", () => {
    const none = { both: 0, firstOnly: 0, secondOnly: 0, neither: 0 };
    expect(comparePairedProportions(none).difference.kind).toBe("undefined");
    expect(comparePairedProportions(none).pExact).toBe(1);
    expect(() => comparePairedProportions({ ...none, both: -1 })).toThrow(
      /both to be a whole count/,
    );
  });
});

/** Rows of one side of the condition from each cluster's counts of both, A only, B only, neither. */
function clusteredRows(clusters: readonly (readonly number[])[], condition: boolean) {
  const rows = clusters.flatMap((counts, subject) =>
    counts.flatMap((count, cell) =>
      Array.from({ length: count }, () => ({
        subject,
        a: cell < 2 === condition,
        b: (cell % 2 === 0) === condition,
      })),
    ),
  );
  return {
    first: rows.map(({ a }) => a),
    second: rows.map(({ b }) => b),
    reference: rows.map(() => condition),
    subjects: rows.map(({ subject }) => `s${subject}`),
  };
}

describe("comparePairedAccuracy", () => {
  // Obuchowski NA, Stat Med 1998;17:1495-1507: glands of 21 patients, as [both, first, second, neither]
  const glands = [
    [0, 0, 2, 1],
    [2, 0, 1, 0],
    [3, 0, 0, 0],
    [1, 0, 0, 0],
    [2, 0, 1, 0],
    [4, 0, 0, 0],
    [3, 0, 0, 0],
    [2, 0, 0, 0],
    [1, 1, 0, 0],
    [1, 0, 0, 0],
    [2, 0, 0, 1],
    [2, 0, 0, 0],
    [3, 0, 0, 0],
    [2, 0, 0, 0],
    [0, 0, 2, 0],
    [2, 0, 0, 1],
    [2, 0, 0, 1],
    [2, 0, 1, 0],
    [2, 0, 0, 0],
    [1, 0, 0, 0],
    [2, 0, 0, 0],
  ];
  // Donner A, Petryshen P, Psychiatry Res 1989;28:41-46: patients of 29 psychiatrists
  const psychiatrists = [
    [1, 0, 4, 2],
    [1, 1, 2, 2],
    [3, 1, 3, 0],
    [2, 1, 2, 1],
    [2, 0, 1, 1],
    [0, 3, 3, 0],
    [0, 3, 0, 2],
    [0, 3, 2, 3],
    [0, 1, 2, 1],
    [0, 0, 4, 3],
    [1, 0, 2, 0],
    [1, 1, 4, 0],
    [1, 0, 3, 3],
    [2, 0, 2, 2],
    [2, 0, 1, 2],
    [1, 0, 3, 0],
    [2, 0, 1, 3],
    [1, 0, 2, 2],
    [0, 3, 0, 1],
    [2, 1, 0, 0],
    [1, 1, 0, 3],
    [0, 2, 2, 0],
    [1, 0, 1, 2],
    [0, 0, 2, 0],
    [0, 0, 2, 1],
    [0, 0, 0, 2],
    [0, 0, 0, 2],
    [1, 0, 1, 1],
    [0, 0, 1, 0],
  ];

  // Durkalski VL and others, Stat Med 2003;22:2417-2428 (seen, secondary): 4.5, 2.86 (Obuchowski
  // prints 2.88, her formula gives 2.857), 2.32; and 11.8451, 7.19, 7.542
  it("Obuchowski's glands: specificity of two scans", () => {
    const { specificity, sensitivity, subjects } = comparePairedAccuracy(
      clusteredRows(glands, false),
    );
    expect(subjects).toBe(21);
    expect(specificity.n).toBe(51);
    expect(known(specificity.first).value).toBeCloseTo(0.784313725490196, 12);
    expect(known(specificity.second).value).toBeCloseTo(0.901960784313726, 12);
    expect(specificity.chiSquare).toBeCloseTo(4.5, 12);
    expect(specificity.clustered?.obuchowski.chiSquare.toFixed(3)).toBe("2.857");
    expect(specificity.clustered?.durkalski.chiSquare.toFixed(3)).toBe("2.315");
    expect(sensitivity.difference.kind).toBe("undefined");
  });

  it("the patients of 29 psychiatrists, as sensitivities", () => {
    const { sensitivity } = comparePairedAccuracy(clusteredRows(psychiatrists, true));
    expect(sensitivity.chiSquare.toFixed(4)).toBe("11.8451");
    expect(sensitivity.clustered?.obuchowski.chiSquare.toFixed(2)).toBe("7.19");
    expect(sensitivity.clustered?.durkalski.chiSquare.toFixed(3)).toBe("7.542");
    expect(known(sensitivity.difference).method).toBe("clustered-wald");
  });

  it("the clustered interval by an infinitesimal jackknife of its own: leave one child out", () => {
    const columns = clusteredRows(psychiatrists, true);
    const difference = (without: string) => {
      const kept = columns.subjects.map((subject) => subject !== without);
      const a = columns.first.filter((_, row) => kept[row]);
      const b = columns.second.filter((_, row) => kept[row]);
      return (a.filter(Boolean).length - b.filter(Boolean).length) / a.length;
    };
    const parts = [...new Set(columns.subjects)].map(difference);
    const mean = parts.reduce((sum, part) => sum + part, 0) / parts.length;
    const jackknife = Math.sqrt(
      ((parts.length - 1) / parts.length) *
        parts.reduce((sum, part) => sum + (part - mean) ** 2, 0),
    );
    const { se } = known(comparePairedAccuracy(columns).sensitivity.difference);
    // the two differ by terms of order 1/29
    expect(Math.abs((se ?? 0) / jackknife - 1)).toBeLessThan(0.03);
  });

  it("one row a child takes the plain path", () => {
    const columns = {
      first: [1, 1, 0, 1, 0, 0],
      second: [1, 0, 0, 1, 1, 0],
      reference: [1, 1, 1, 0, 0, 0],
    };
    const plain = comparePairedAccuracy(columns);
    const named = comparePairedAccuracy({ ...columns, subjects: [1, 2, 3, 4, 5, 6] });
    expect(named.sensitivity).toEqual(plain.sensitivity);
    expect(named.sensitivity.clustered).toBeNull();
    expect(plain.subjects).toBeNull();
  });

  it("no discordant row among clusters: Newcombe on children, labelled", () => {
    const { sensitivity } = comparePairedAccuracy({
      first: [1, 1, 0, 0, 1, 1],
      second: [1, 1, 0, 0, 1, 1],
      reference: [1, 1, 1, 1, 1, 1],
      subjects: ["a", "a", "b", "b", "c", "c"],
    });
    const { value, low, high, method } = known(sensitivity.difference);
    expect(method).toBe("newcombe-on-children");
    expect(value).toBe(0);
    expect(low).toBeLessThan(-0.3);
    expect(high).toBeGreaterThan(0.3);
  });

  // own argument: a variance of 0 between alike children is not known to be 0
  it("children all alike: no interval of no width", () => {
    for (const [testA, testB] of [
      [
        [1, 1],
        [1, 0],
      ],
      [
        [1, 0, 0],
        [0, 0, 0],
      ],
      [
        [1, 0],
        [0, 1],
      ],
    ]) {
      const four = (rows: number[]) => [...rows, ...rows, ...rows, ...rows];
      const child = testA.map(() => 0);
      const { sensitivity, positivePredictiveValue } = comparePairedAccuracy({
        first: four(testA),
        second: four(testB),
        reference: four(testA.map(() => 1)),
        subjects: [0, 1, 2, 3].flatMap((add) => child.map((code) => code + add)),
      });
      const { value, low, high, method } = known(sensitivity.difference);
      expect(method).toBe("newcombe-on-children");
      expect(value).toBeCloseTo(
        testA.reduce((sum, one, at) => sum + one - testB[at], 0) / testA.length,
        12,
      );
      expect(value - low).toBeGreaterThan(0.1);
      expect(high - value).toBeGreaterThan(0.1);
      expect(positivePredictiveValue.difference.kind).toBe("undefined");
      expect(positivePredictiveValue.p).toBeNull();
    }
  });

  // Rao and Scott 1992, as clusteredAccuracy gives them
  it("with repeated subjects the two rates have the intervals of clustered rows", () => {
    const testA = [1, 1, 1, 1, 0, 0, 1, 0, 1, 1, 1, 0];
    const testB = [1, 1, 0, 0, 0, 0, 1, 1, 1, 1, 0, 0];
    const reference = [1, 1, 1, 1, 1, 1, 0, 0, 0, 0, 0, 0];
    const subjects = ["a", "a", "b", "b", "c", "c", "d", "d", "e", "e", "f", "f"];
    const compared = comparePairedAccuracy({ first: testA, second: testB, reference, subjects });
    for (const measure of ["sensitivity", "specificity"] as const) {
      const one = clusteredAccuracy({ test: testA, reference, subjects })[measure];
      const other = clusteredAccuracy({ test: testB, reference, subjects })[measure];
      for (const [ours, theirs] of [
        [compared[measure].first, one],
        [compared[measure].second, other],
      ]) {
        expect(known(ours).method).toBe(known(theirs).method);
        expect(known(ours).low).toBeCloseTo(known(theirs).low, 12);
        expect(known(ours).high).toBeCloseTo(known(theirs).high, 12);
      }
    }
  });

  it("paired predictive values by a bootstrap of children", () => {
    const random = createRandom(11);
    const n = 500;
    const rows = Array.from({ length: n }, () => {
      const d = random.uniform() < 0.3;
      const shared = random.uniform();
      const hit = (rate: number) => (shared < 0.5 ? shared * 2 < rate : random.uniform() < rate);
      return { d, a: hit(d ? 0.85 : 0.15), b: hit(d ? 0.7 : 0.25) };
    });
    const compare = (sample: typeof rows) =>
      comparePairedAccuracy({
        first: sample.map(({ a }) => a),
        second: sample.map(({ b }) => b),
        reference: sample.map(({ d }) => d),
      });
    const result = compare(rows);
    for (const measure of ["positivePredictiveValue", "negativePredictiveValue"] as const) {
      const resampled = Array.from({ length: 800 }, () => {
        const sample = Array.from({ length: n }, () => rows[random.integer(n)]);
        return known(compare(sample)[measure].difference).value;
      });
      const mean = resampled.reduce((sum, value) => sum + value, 0) / 800;
      const sd = Math.sqrt(resampled.reduce((sum, value) => sum + (value - mean) ** 2, 0) / 799);
      // a standard deviation of 800 replicates has an error of 2.5 %
      expect(Math.abs((known(result[measure].difference).se ?? 0) / sd - 1)).toBeLessThan(0.1);
    }
    expect(known(result.positivePredictiveValue.ratio).value).toBeGreaterThan(1);
  });

  it("undecidable rows need a policy, and those left out are counted", () => {
    const columns = { first: [1, "undecidable", 0], second: [1, 1, 0], reference: [1, 1, 0] };
    expect(() => comparePairedAccuracy(columns)).toThrow(/undecidable/);
    expect(comparePairedAccuracy(columns, { undecidable: "exclude" }).excluded).toBe(1);
    expect(comparePairedAccuracy(columns, { undecidable: "refer" }).n).toBe(3);
  });
});

describe("compareIndependentProportions", () => {
  // Newcombe 1998b and Fagerland and others 2015 (seen; the third row from memory)
  it.each([
    [5, 56, 0, 29, -0.0381, 0.1926],
    [7, 34, 1, 34, 0.0189, 0.3404],
    [56, 70, 48, 80, 0.0524, 0.3339],
  ])("Newcombe: %i of %i against %i of %i", (x1, n1, x2, n2, low, high) => {
    const { difference } = compareIndependentProportions({
      first: { successes: x1, trials: n1 },
      second: { successes: x2, trials: n2 },
    });
    expect(Number(known(difference).low.toFixed(4))).toBe(low);
    expect(Number(known(difference).high.toFixed(4))).toBe(high);
  });

  it("statsmodels", () => {
    for (const [x1, n1, x2, n2, low, high] of reference.independent) {
      const { difference } = compareIndependentProportions({
        first: { successes: x1, trials: n1 },
        second: { successes: x2, trials: n2 },
      });
      expect(known(difference).low).toBeCloseTo(low, 10);
      expect(known(difference).high).toBeCloseTo(high, 10);
    }
  });

  it("an empty group is undefined; p is 1 when the two are equal", () => {
    const empty = compareIndependentAccuracy({
      first: { truePositive: 0, falsePositive: 3, falseNegative: 0, trueNegative: 9 },
      second: { truePositive: 4, falsePositive: 3, falseNegative: 2, trueNegative: 9 },
    });
    expect(empty.sensitivity.difference.kind).toBe("undefined");
    expect(empty.sensitivity.p).toBeNull();
    expect(empty.specificity.p).toBe(1);
    expect(() =>
      compareIndependentProportions({
        first: { successes: 3, trials: 2 },
        second: { successes: 1, trials: 2 },
      }),
    ).toThrow(/up to 2, got 3/);
  });
});

describe("nonInferiority", () => {
  const difference = comparePairedProportions({
    both: 180,
    firstOnly: 6,
    secondOnly: 8,
    neither: 6,
  }).difference;

  it("is the test that the lower limit is above minus the margin", () => {
    const { low } = known(difference);
    expect(nonInferiority(difference, { margin: -low + 1e-9 }).conclusion).toBe("non-inferior");
    expect(nonInferiority(difference, { margin: -low - 1e-9 }).conclusion).toBe("not-shown");
    expect(nonInferiority(difference, { margin: 0.05 }).oneSidedLevel).toBeCloseTo(0.975, 12);
  });

  it("superior, not estimable, and a margin of 0", () => {
    const better = comparePairedProportions({ both: 90, firstOnly: 40, secondOnly: 2, neither: 3 });
    expect(nonInferiority(better.difference, { margin: 0.05 }).conclusion).toBe("superior");
    const none = { kind: "undefined", reason: "no pairs" } as const;
    expect(nonInferiority(none, { margin: 0.05 }).conclusion).toBe("not-estimable");
    expect(() => nonInferiority(difference, { margin: 0 })).toThrow(/margin above 0/);
  });
});

describe("relativeRates", () => {
  it("equals the ratio of full sensitivities, whatever the children negative on both", () => {
    const withCondition = { both: 40, firstOnly: 10, secondOnly: 4 };
    const { truePositiveRatio } = relativeRates({
      withCondition,
      withoutCondition: { both: 20, firstOnly: 12, secondOnly: 8 },
    });
    for (const neither of [0, 7, 300]) {
      const full = comparePairedProportions({ ...withCondition, neither });
      expect(known(truePositiveRatio).value).toBeCloseTo(
        known(full.first).value / known(full.second).value,
        12,
      );
    }
  });

  it("covers the true ratio in 2,000 simulated programmes (printed; log interval, approximate)", () => {
    const random = createRandom(5);
    const probabilities = [0.6, 0.15, 0.1]; // both, first only, second only of 80 cases
    const truth = 0.75 / 0.7;
    let covered = 0;
    for (let round = 0; round < 2000; round++) {
      const cells = [0, 0, 0, 0];
      for (let child = 0; child < 80; child++) {
        const u = random.uniform();
        cells[u < 0.6 ? 0 : u < 0.75 ? 1 : u < 0.85 ? 2 : 3]++;
      }
      const counts = { both: cells[0], firstOnly: cells[1], secondOnly: cells[2] };
      const { truePositiveRatio } = relativeRates({
        withCondition: counts,
        withoutCondition: counts,
      });
      const { low, high } = known(truePositiveRatio);
      if (low <= truth && truth <= high) covered++;
    }
    expect(probabilities[0] + probabilities[1]).toBeCloseTo(0.75, 12);
    console.log(`relative true positive rate, 80 cases: coverage ${(covered / 2000).toFixed(3)}`);
    expect(covered / 2000).toBeGreaterThan(0.935);
    expect(covered / 2000).toBeLessThan(0.97);
  });

  it("a rule that found nobody has no ratio", () => {
    const { truePositiveRatio, falsePositiveRatio } = relativeRates({
      withCondition: { both: 0, firstOnly: 5, secondOnly: 0 },
      withoutCondition: { both: 3, firstOnly: 0, secondOnly: 0 },
    });
    expect(truePositiveRatio.kind).toBe("undefined");
    expect(falsePositiveRatio.kind).toBe("undefined");
  });
});
