import fc from "fast-check";
import { describe, expect, it } from "vitest";
import { createRandom } from "../../src/inference/index.js";
import {
  checkPrintedLimits,
  checkPrintedMean,
  type PrintedMeasure,
  possibleFractions,
  reconstructTwoByTwo,
} from "../../src/printed/index.js";
import type { TwoByTwo } from "../../src/results/index.js";

/** By definition, in fractions of whole numbers: is |share - printed| at most half a last digit? */
function prints(part: number, total: number, text: string): boolean {
  if (total === 0) return false;
  const [whole = "", decimals = ""] = text.split(".");
  const digits = BigInt(whole + decimals);
  const scale = 100n * 10n ** BigInt(decimals.length);
  const off = 2n * (scale * BigInt(part) - digits * BigInt(total));
  return (off < 0n ? -off : off) <= BigInt(total);
}

const parts: Record<string, (t: TwoByTwo) => [number, number]> = {
  sensitivity: (t) => [t.truePositive, t.truePositive + t.falseNegative],
  specificity: (t) => [t.trueNegative, t.trueNegative + t.falsePositive],
  positivePredictiveValue: (t) => [t.truePositive, t.truePositive + t.falsePositive],
  negativePredictiveValue: (t) => [t.trueNegative, t.trueNegative + t.falseNegative],
  prevalence: (t) => [t.truePositive + t.falseNegative, size(t)],
  referralRate: (t) => [t.truePositive + t.falsePositive, size(t)],
  overallAccuracy: (t) => [t.truePositive + t.trueNegative, size(t)],
};
const names = Object.keys(parts) as PrintedMeasure[];

const size = (t: TwoByTwo) => t.truePositive + t.falsePositive + t.falseNegative + t.trueNegative;

function everyTable(n: number): TwoByTwo[] {
  const tables: TwoByTwo[] = [];
  for (let a = 0; a <= n; a += 1) {
    for (let b = 0; a + b <= n; b += 1) {
      for (let c = 0; a + b + c <= n; c += 1) {
        tables.push({
          truePositive: a,
          falsePositive: b,
          falseNegative: c,
          trueNegative: n - a - b - c,
        });
      }
    }
  }
  return tables;
}

const key = (t: TwoByTwo) =>
  `${t.truePositive}/${t.falsePositive}/${t.falseNegative}/${t.trueNegative}`;

const printedOf = (t: TwoByTwo, measures: readonly PrintedMeasure[], decimals: number) =>
  Object.fromEntries(
    measures.flatMap((measure) => {
      const [part, total] = parts[measure]!(t);
      return total === 0 ? [] : [[measure, ((100 * part) / total).toFixed(decimals)]];
    }),
  );

const anyTable = (most: number) =>
  fc
    .tuple(fc.nat(most), fc.nat(most), fc.nat(most), fc.nat(most))
    .map(([truePositive, falsePositive, falseNegative, trueNegative]) => ({
      truePositive,
      falsePositive,
      falseNegative,
      trueNegative,
    }))
    .filter((t) => size(t) > 0);

describe("reconstructTwoByTwo", () => {
  it("equals brute force: every table of n, any measures, margins known or not", () => {
    fc.assert(
      fc.property(
        anyTable(6),
        fc.subarray(names, { minLength: 1 }),
        fc.integer({ min: 0, max: 2 }),
        fc.constantFrom("none", "withCondition", "testPositive", "both"),
        (table, measures, decimals, margins) => {
          const printed = printedOf(table, measures, decimals);
          if (Object.keys(printed).length === 0) return;
          const withCondition = table.truePositive + table.falseNegative;
          const testPositive = table.truePositive + table.falsePositive;
          const known = {
            ...(margins === "withCondition" || margins === "both" ? { withCondition } : {}),
            ...(margins === "testPositive" || margins === "both" ? { testPositive } : {}),
          };
          const expected = everyTable(size(table)).filter(
            (t) =>
              Object.entries(printed).every(([measure, text]) =>
                prints(...parts[measure]!(t), text as string),
              ) &&
              ("withCondition" in known
                ? t.truePositive + t.falseNegative === withCondition
                : true) &&
              ("testPositive" in known ? t.truePositive + t.falsePositive === testPositive : true),
          );
          const found = reconstructTwoByTwo(
            { n: size(table), printed, unit: "percent", ...known },
            { most: 1e6 },
          );
          expect(found.count).toBe(expected.length);
          expect(new Set(found.tables.map(key))).toEqual(new Set(expected.map(key)));
          expect(found.kind).toBe(expected.length === 1 ? "unique" : "several");
          for (const cell of [
            "truePositive",
            "falsePositive",
            "falseNegative",
            "trueNegative",
          ] as const) {
            const values = expected.map((t) => t[cell]);
            expect(found.common![cell]).toEqual({
              low: Math.min(...values),
              high: Math.max(...values),
            });
          }
        },
      ),
      { numRuns: 400 },
    );
  });

  it("printed numbers at random: equals brute force, none included, and over a range of n", () => {
    const shares = fc.integer({ min: 0, max: 100 }).map(String);
    fc.assert(
      fc.property(
        fc.integer({ min: 1, max: 14 }),
        fc.nat(3),
        shares,
        shares,
        fc.option(shares, { nil: undefined }),
        (from, more, sensitivity, specificity, positivePredictiveValue) => {
          const printed = {
            sensitivity,
            specificity,
            ...(positivePredictiveValue === undefined ? {} : { positivePredictiveValue }),
          };
          const expected = Array.from({ length: more + 1 }, (_, at) => from + at)
            .flatMap(everyTable)
            .filter((t) =>
              Object.entries(printed).every(([measure, text]) =>
                prints(...parts[measure]!(t), text),
              ),
            );
          const found = reconstructTwoByTwo(
            { n: { from, to: from + more }, printed, unit: "percent" },
            { most: 1e6 },
          );
          expect(found.tables.map(key).sort()).toEqual(expected.map(key).sort());
        },
      ),
      { numRuns: 300 },
    );
  });

  it("200 random tables printed to 0 and 1 decimals: the true one is always found", () => {
    const random = createRandom(20261126);
    const four: PrintedMeasure[] = [
      "sensitivity",
      "specificity",
      "positivePredictiveValue",
      "negativePredictiveValue",
    ];
    let counted = 0;
    for (let at = 0; at < 200; at += 1) {
      const share = () => random.uniform();
      const n = 20 + Math.floor(share() * 980);
      const cases = 1 + Math.floor(share() * (n - 2));
      const truePositive = Math.floor(share() * (cases + 1));
      const falsePositive = Math.floor(share() * (n - cases + 1));
      const table = {
        truePositive,
        falsePositive,
        falseNegative: cases - truePositive,
        trueNegative: n - cases - falsePositive,
      };
      for (const decimals of [0, 1]) {
        const printed = printedOf(table, four, decimals);
        const found = reconstructTwoByTwo({ n, printed, unit: "percent" }, { most: 1e6 });
        expect(found.tables.map(key)).toContain(key(table));
        counted += 1;
      }
    }
    expect(counted).toBe(400);
  });

  it("nearest and set aside: a table with one digit changed leads back", () => {
    fc.assert(
      fc.property(anyTable(40), (table) => {
        const withCondition = table.truePositive + table.falseNegative;
        fc.pre(withCondition > 0 && withCondition < size(table));
        const printed = printedOf(table, ["sensitivity", "specificity"], 1);
        const wrong = { ...printed, sensitivity: "33.4" };
        const found = reconstructTwoByTwo({
          n: size(table),
          withCondition,
          printed: wrong,
          unit: "percent",
        });
        if (found.kind !== "none") return;
        // only the sensitivity, set aside, leaves tables; they hold the true one
        expect(found.withoutOne.some(({ measure }) => measure === "sensitivity")).toBe(true);
        expect(found.nearest.every(({ misses }) => misses.length > 0)).toBe(true);
      }),
      { numRuns: 100 },
    );
  });

  it("likelihood ratios, odds ratio and Youden index filter as their definition does", () => {
    const tables = everyTable(12);
    const round = (x: number, scale: number) => Math.abs(x) * scale;
    for (const [measure, text, by] of [
      [
        "positiveLikelihoodRatio",
        "2.5",
        (t: TwoByTwo) =>
          (t.truePositive * (t.falsePositive + t.trueNegative)) /
          (t.falsePositive * (t.truePositive + t.falseNegative)),
      ],
      [
        "negativeLikelihoodRatio",
        "0.5",
        (t: TwoByTwo) =>
          (t.falseNegative * (t.falsePositive + t.trueNegative)) /
          (t.trueNegative * (t.truePositive + t.falseNegative)),
      ],
      [
        "diagnosticOddsRatio",
        "4",
        (t: TwoByTwo) => (t.truePositive * t.trueNegative) / (t.falsePositive * t.falseNegative),
      ],
    ] as const) {
      const half = text.includes(".") ? 0.05 : 0.5;
      const expected = tables.filter((t) => round(by(t) - Number(text), 1) <= half + 1e-12);
      const found = reconstructTwoByTwo({ n: 12, printed: { [measure]: text } }, { most: 1e6 });
      expect(found.tables.map(key).sort()).toEqual(expected.map(key).sort());
      expect(expected.length).toBeGreaterThan(0);
    }
    const youden = reconstructTwoByTwo(
      { n: 12, printed: { youdenIndex: "50" }, unit: "percent" },
      { most: 1e6 },
    );
    expect(youden.tables.map(key).sort()).toEqual(
      tables
        .filter((t) => {
          const [a, b] = parts.sensitivity!(t);
          const [c, d] = parts.specificity!(t);
          return b > 0 && d > 0 && Math.abs(a / b + c / d - 1 - 0.5) <= 0.005 + 1e-12;
        })
        .map(key)
        .sort(),
    );
  });

  it("holds the true table at n 1,000, and at n 20,000 with margins unknown", () => {
    // how long each takes is measured by printed.bench.ts
    const truth = { truePositive: 181, falsePositive: 114, falseNegative: 19, trueNegative: 686 };
    const found = reconstructTwoByTwo({
      n: 1000,
      printed: {
        sensitivity: "90.5",
        specificity: "85.8",
        positivePredictiveValue: "61.4",
        negativePredictiveValue: "97.3",
      },
    });
    expect(found.tables).toContainEqual(truth);
    const whole = {
      sensitivity: "90",
      specificity: "85",
      positivePredictiveValue: "61",
      negativePredictiveValue: "97",
    };
    const many = reconstructTwoByTwo({ n: 20_000, printed: whole }, { most: 10 });
    expect(many.count).toBeGreaterThan(1000);
    expect(many.tables).toHaveLength(10);
  });
});

describe("possibleFractions", () => {
  it("equals brute force", () => {
    fc.assert(
      fc.property(
        fc.integer({ min: 1, max: 60 }),
        fc.integer({ min: 0, max: 1000 }),
        (to, thousandth) => {
          const printed = (thousandth / 10).toFixed(1);
          const expected: string[] = [];
          for (let total = 1; total <= to; total += 1) {
            for (let part = 0; part <= total; part += 1) {
              if (prints(part, total, printed)) expected.push(`${part}/${total}`);
            }
          }
          const found = possibleFractions({ printed, totals: { from: 1, to }, unit: "percent" });
          expect(found.fractions.map(({ part, total }) => `${part}/${total}`)).toEqual(expected);
          expect(found.count).toBe(expected.length);
        },
      ),
      { numRuns: 200 },
    );
  });
});

describe("printed means and limits", () => {
  const dioptres = fc.array(fc.integer({ min: -40, max: 40 }), { minLength: 2, maxLength: 30 });

  it("mean and SD of values in steps of 0.25 are never called impossible", () => {
    fc.assert(
      fc.property(dioptres, fc.integer({ min: 1, max: 3 }), (quarters, decimals) => {
        const values = quarters.map((quarter) => quarter / 4);
        const n = values.length;
        const mean = values.reduce((sum, value) => sum + value, 0) / n;
        const sd = Math.sqrt(values.reduce((sum, value) => sum + (value - mean) ** 2, 0) / (n - 1));
        const found = checkPrintedMean({
          mean: mean.toFixed(decimals),
          sd: sd.toFixed(decimals),
          n,
          step: 0.25,
        });
        expect(found.grid).toMatchObject({ meanPossible: true, sdPossible: true });
      }),
      { numRuns: 500 },
    );
  });

  it("means that no values can have are found: all sums of up to 12 steps by brute force", () => {
    for (const n of [2, 3, 7, 12]) {
      const possible = new Set<string>();
      for (let sum = 0; sum <= 4 * n; sum += 1) possible.add(((sum * 0.25) / n).toFixed(2));
      for (let hundredth = 0; hundredth <= 100; hundredth += 1) {
        const mean = (hundredth / 100).toFixed(2);
        const { grid } = checkPrintedMean({ mean, n, step: 0.25 });
        const exact = [0, 1].some(
          (side) =>
            possible.has(mean) ||
            // a tie rounds to either side
            Number.isInteger(
              Math.round(((hundredth + (side === 0 ? 0.5 : -0.5)) / 100 / 0.25) * n * 1e6) / 1e6,
            ),
        );
        expect(grid!.meanPossible).toBe(exact);
      }
    }
  });

  it("SDs that no values can have are found: every four values on the grid", () => {
    const seen = new Set<string>();
    const values = [0, 1, 2, 3, 4];
    for (const a of values)
      for (const b of values)
        for (const c of values)
          for (const d of values) {
            const sum = a + b + c + d;
            const squares = a * a + b * b + c * c + d * d;
            seen.add(`${sum} ${(Math.sqrt((squares - (sum * sum) / 4) / 3) * 0.25).toFixed(3)}`);
          }
    // sum 8 quarters: the mean is 0.500; an SD is possible only where squares have the sum's parity
    for (const sd of ["0.000", "0.204", "0.289", "0.408"]) {
      const inGrid = checkPrintedMean({ mean: "0.500", sd, n: 4, step: 0.25 }).grid!.sdPossible;
      expect(inGrid).toBe(seen.has(`8 ${sd}`));
    }
    expect(
      checkPrintedMean({ mean: "0.500", sd: "0.250", n: 4, step: 0.25 }).grid!.sdPossible,
    ).toBe(false);
  });

  it("limits made from a bias and an SD are never called wrong; the multiplier is among those found", () => {
    fc.assert(
      fc.property(
        fc.integer({ min: -2000, max: 2000 }),
        fc.integer({ min: 50, max: 3000 }),
        fc.constantFrom(1.959964, 2),
        fc.integer({ min: 2, max: 3 }),
        (biasThousandth, sdThousandth, multiplier, decimals) => {
          const [bias, sd] = [biasThousandth / 1000, sdThousandth / 1000];
          const found = checkPrintedLimits({
            bias: bias.toFixed(decimals),
            sd: sd.toFixed(decimals),
            low: (bias - multiplier * sd).toFixed(decimals),
            high: (bias + multiplier * sd).toFixed(decimals),
          });
          expect(found.biasIsMidpoint).toBe(true);
          expect(found.fits).toContain(multiplier === 2 ? "2 SD" : "1.96 SD");
          expect(found.lostMinus).toEqual([]);
        },
      ),
      { numRuns: 500 },
    );
  });

  it("one lost minus sign is always among those named", () => {
    fc.assert(
      fc.property(
        fc.integer({ min: -200, max: 200 }),
        fc.integer({ min: 20, max: 300 }),
        fc.constantFrom("bias", "low", "high" as const),
        (biasHundredth, reachHundredth, lost) => {
          const exact = {
            bias: biasHundredth / 100,
            low: (biasHundredth - reachHundredth) / 100,
            high: (biasHundredth + reachHundredth) / 100,
          };
          fc.pre(exact[lost] < -0.02);
          const print = Object.fromEntries(
            Object.entries(exact).map(([name, value]) => [
              name,
              (name === lost ? -value : value).toFixed(2),
            ]),
          ) as Record<"bias" | "low" | "high", string>;
          const found = checkPrintedLimits(print);
          expect(found.biasIsMidpoint).toBe(false);
          expect(found.lostMinus).toContainEqual([lost]);
        },
      ),
      { numRuns: 300 },
    );
  });
});
