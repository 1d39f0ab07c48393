import fc from "fast-check";
import { describe, expect, it } from "vitest";
import {
  counted,
  directionOf,
  fixed,
  grouped,
  isStrict,
  limitAt,
  limitWords,
  meets,
  noiseOf,
  percent,
  printSigns,
  quantityText,
  reaches,
  requireDirection,
  valueText,
} from "../../src/rows/index.js";

describe("limits", () => {
  it("are compared in thousandths, on either side of zero", () => {
    const relations = [">", ">=", "<", "<="] as const;
    const thousandths = fc.integer({ min: -8000, max: 8000 });
    fc.assert(
      fc.property(
        thousandths,
        thousandths,
        fc.constantFrom(...relations),
        (value, at, relation) => {
          const wanted = { ">": value > at, ">=": value >= at, "<": value < at, "<=": value <= at };
          const noisy = value / 1000 + 0.3 - 0.1 - 0.2;
          expect(meets(noisy, { relation, limit: at / 1000 })).toBe(wanted[relation]);
        },
      ),
      { numRuns: 2000, seed: 23 },
    );
    expect(meets(Number.NaN, { relation: "<=", limit: 0 })).toBe(false);
    const atLimit = relations.map((relation) => meets(-0.5, { relation, limit: -0.5 }));
    expect(atLimit).toEqual([false, true, false, true]);
  });

  it("say which end they are about, and whether a value at them meets them", () => {
    const relations = [">", ">=", "<", "<="] as const;
    expect(relations.map((relation) => directionOf({ relation }))).toEqual([
      "high",
      "high",
      "low",
      "low",
    ]);
    expect(relations.map((relation) => isStrict({ relation }))).toEqual([true, false, true, false]);
  });

  it("of any unit are reached at the cut-off itself, but for noise", () => {
    expect(reaches(0.1 + 0.2, 0.3, "low")).toBe(true);
    expect(reaches(0.3, 0.1 + 0.2, "high")).toBe(true);
    expect(reaches(0.2999999, 0.3, "high")).toBe(false);
    expect(reaches(0.3 - noiseOf(0.3), 0.3, "high")).toBe(true);
    expect(reaches(0.3 + noiseOf(0.3), 0.3, "low")).toBe(true);
    expect([reaches(2, 1, "high"), reaches(2, 1, "low")]).toEqual([true, false]);
  });

  it.each([
    [{ quantity: "M", relation: "<=", limit: -0.625 }, "M <= -0.625 D"],
    [{ quantity: "M", relation: "<=", limit: -3 }, "M <= -3.00 D"],
    [{ relation: ">", limit: 2.5 }, "> +2.50 D"],
    [{ relation: ">=", limit: 0.1 + 0.2 }, ">= +0.30 D"],
    [{ relation: "<", limit: 0 }, "< 0.00 D"],
  ] as const)("read true to what was stated: %j", (limit, words) => {
    expect(limitWords(limit)).toBe(words);
  });

  it("have the signs of print by one function", () => {
    expect(printSigns(limitWords(limitAt(-0.625, "low")))).toBe("≤ −0.625 D");
    expect(printSigns(limitWords(limitAt(2, "high", { strict: true })))).toBe("> +2.00 D");
  });

  it("of other units have the decimals that they need", () => {
    expect(quantityText(8, { unit: "mm" })).toBe("8 mm");
    expect(quantityText(0.3, { unit: "logMAR", least: 2 })).toBe("0.30 logMAR");
    expect(quantityText(1.25, { unit: "" })).toBe("1.25");
  });
});

describe("numbers in words", () => {
  it("round halves away from zero on the shortest decimal form", () => {
    expect([fixed(1.005, 2), fixed(-1.005, 2), fixed(-0.001, 2)]).toEqual([
      "1.01",
      "-1.01",
      "0.00",
    ]);
    // far from 1 the form has an exponent, which is not rounded by its digits
    expect([fixed(1.5e-7, 7), fixed(1e21, 1), fixed(1.5e15, 1)]).toEqual([
      (1.5e-7).toFixed(7),
      (1e21).toFixed(1),
      "1500000000000000.0",
    ]);
  });

  it("agree with what they count", () => {
    expect([counted(1, "eye"), counted(12_000, "eye"), counted(0, "child")]).toEqual([
      "1 eye",
      "12,000 eyes",
      "0 children",
    ]);
    expect([counted(1, "child"), counted(2, "eye", "pairs of eyes")]).toEqual([
      "1 child",
      "2 pairs of eyes",
    ]);
  });

  it("have commas from 10,000, and shares a sign", () => {
    expect([grouped(9999), grouped(10_000), grouped(-1234567), grouped("12345.5")]).toEqual([
      "9999",
      "10,000",
      "-1,234,567",
      "12,345.5",
    ]);
    expect([grouped(-1234), grouped(-12_345)]).toEqual(["-1234", "-12,345"]);
    expect([percent(0.95), percent(0.999), percent(1)]).toEqual(["95 %", "99.9 %", "100 %"]);
  });
});

describe("words of any unit", () => {
  it("keep thousandths whole, leave out noise, and cut what is finer to six digits", () => {
    expect([2.5, -0.625, 0.1 + 0.2, 12345.678, 0].map(valueText)).toEqual([
      "2.5",
      "-0.625",
      "0.3",
      "12345.678",
      "0",
    ]);
    expect([1 / 3, 0.00012345678, -2 / 3].map(valueText)).toEqual([
      "0.333333",
      "0.000123457",
      "-0.666667",
    ]);
  });

  it("name the option whose direction is wrong", () => {
    expect(requireDirection("f", "low")).toBe("low");
    const wrong = "up" as unknown as "high";
    expect(() => requireDirection("f", wrong)).toThrow(
      'f requires positiveWhen: "high" or "low", got up',
    );
    expect(() => requireDirection("f", wrong, "betterWhen")).toThrow("f requires betterWhen:");
  });
});
