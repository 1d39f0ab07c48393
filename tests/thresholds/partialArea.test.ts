import { readFileSync } from "node:fs";
import fc from "fast-check";
import { describe, expect, it } from "vitest";
import { areaUnderCurve, partialArea, rocCurve } from "../../src/thresholds/index.js";
import { known, readColumns } from "./data.js";

const reference: {
  cases: {
    values: number[];
    condition: number[];
    standardisedPartial: Record<string, number>;
  }[];
} = JSON.parse(
  readFileSync(new URL("../reference/thresholds/curves.json", import.meta.url), "utf8"),
);

describe("partialArea", () => {
  // scikit-learn roc_auc_score(max_fpr=): /usr/bin/python3 tests/reference/thresholds/curves.py
  it.each(reference.cases.map((given, at) => [at, given] as const))("tied data %i", (_, given) => {
    const { values, condition } = given;
    const curve = rocCurve({ values, condition }, { positiveWhen: "high" });
    for (const [rate, standardised] of Object.entries(given.standardisedPartial)) {
      const found = partialArea(curve, { falsePositiveRate: [0, Number(rate)] });
      expect(found.standardised).toBeCloseTo(standardised, 10);
    }
  });

  // Wieand 1989 data; computed, and equal to scikit-learn's
  it.each([
    ["CA19_9", 0.142701525054466, 0.84083756959574],
    ["CA125", 0.0451633986928105, 0.569898329702251],
  ])("Wieand 1989, %s to a false-positive rate of .2", (marker, raw, standardised) => {
    const column = readColumns("tests/reference/thresholds/wieand_pancreas.csv");
    const curve = rocCurve(
      { values: column(marker).map(Number), condition: column("cancer").map(Number) },
      { positiveWhen: "high" },
    );
    const found = partialArea(curve, { falsePositiveRate: [0, 0.2] });
    expect(found.raw).toBeCloseTo(raw, 12);
    expect(found.standardised).toBeCloseTo(standardised, 12);
  });

  it("the whole range is the area on either axis; ranges add up; the axes mirror", () => {
    fc.assert(
      fc.property(
        fc.array(fc.tuple(fc.integer({ min: 0, max: 9 }), fc.boolean()), { minLength: 4 }),
        fc.double({ min: 0.05, max: 0.95, noNaN: true }),
        (rows, middle) => {
          fc.pre(rows.some(([, c]) => c) && rows.some(([, c]) => !c));
          const values = rows.map(([value]) => value);
          const condition = rows.map(([, c]) => c);
          fc.pre(new Set(values).size > 1);
          const curve = rocCurve({ values, condition }, { positiveWhen: "high" });
          const area = areaUnderCurve({ values, condition }, { positiveWhen: "high" });
          const whole = partialArea(curve, { falsePositiveRate: [0, 1] });
          if (area.kind === "estimate") expect(whole.raw).toBeCloseTo(known(area).value, 10);
          expect(partialArea(curve, { truePositiveRate: [0, 1] }).raw).toBeCloseTo(whole.raw, 10);
          for (const axis of ["falsePositiveRate", "truePositiveRate"] as const) {
            const parts = [
              partialArea(curve, { [axis]: [0, middle] }),
              partialArea(curve, { [axis]: [middle, 1] }),
            ];
            expect(parts[0].raw + parts[1].raw).toBeCloseTo(whole.raw, 10);
          }
          // the other class as the condition, and the other direction: axes change places
          const mirrored = rocCurve(
            { values, condition: condition.map((c) => !c) },
            { positiveWhen: "low" },
          );
          expect(partialArea(mirrored, { truePositiveRate: [1 - middle, 1] }).raw).toBeCloseTo(
            partialArea(curve, { falsePositiveRate: [0, middle] }).raw,
            10,
          );
        },
      ),
    );
  });

  it("a perfect test is 1 and a test of chance .5, standardised, on both axes", () => {
    const perfect = rocCurve(
      { values: [1, 2, 3, 4], condition: [0, 0, 1, 1] },
      { positiveWhen: "high" },
    );
    const chance = rocCurve(
      { values: [1, 1, 2, 2], condition: [0, 1, 0, 1] },
      { positiveWhen: "high" },
    );
    for (const axis of ["falsePositiveRate", "truePositiveRate"] as const) {
      expect(partialArea(perfect, { [axis]: [0.2, 0.6] }).standardised).toBeCloseTo(1, 12);
      expect(partialArea(chance, { [axis]: [0.2, 0.6] }).standardised).toBeCloseTo(0.5, 12);
      // true-positive axis above t0: maximum 1 - t0, chance (1 - t0)²/2
      expect(partialArea(perfect, { truePositiveRate: [0.9, 1] })).toMatchObject({
        perfect: expect.closeTo(0.1, 12),
        chance: expect.closeTo(0.005, 12),
      });
    }
  });

  it.each([
    [{}, "got none"],
    [{ falsePositiveRate: [0, 0.1], truePositiveRate: [0.9, 1] }, "got both"],
    [{ falsePositiveRate: [0.5, 0.2] }, "[0.5, 0.2]"],
  ] as const)("%j is an error", (range, message) => {
    const curve = rocCurve({ values: [1, 2], condition: [0, 1] }, { positiveWhen: "high" });
    expect(() => partialArea(curve, range)).toThrow(message);
  });
});
