import fc from "fast-check";
import { describe, expect, it } from "vitest";
import type { CellFormat } from "../../src/results/index.js";
import { fixed } from "../../src/rows/index.js";
import { numberText } from "../../src/tables/numberText.js";

describe("numberText", () => {
  it.each<[number, CellFormat, string]>([
    [1071, "count", "1071"],
    [20000, "count", "20,000"],
    [-1234567, "count", "-1,234,567"],
    [1234567.25, "count", "1,234,567.3"],
    [-0.3757, "dioptres", "-0.38"],
    [-0.001, "dioptres", "0.00"],
    [0.125, "dioptres", "0.13"],
    [-0.125, "dioptres", "-0.13"],
    [0.9629, "percent", "96.3 %"],
    [0, "percent", "0.0 %"],
    [1, "proportion", "1.00"],
    [0.9975, "proportion", "0.998"],
    [0.0021, "proportion", "0.002"],
    [0.845, "proportion", "0.85"],
    [6.98, "ratio", "6.98"],
    [23.14, "ratio", "23.1"],
    [415.2, "ratio", "415"],
    [0.04812, "p", "0.048"],
    [0.00123, "p", "0.0012"],
    [0.000012, "p", "<0.0001"],
    [0.9987, "p", ">0.99"],
    [0.5, "p", "0.50"],
    [12, "number", "12"],
    [0.97534, "number", "0.9753"],
    [12345.6, "number", "12346"],
    [1e-12, "number", "1.000e-12"],
    [Number.POSITIVE_INFINITY, "ratio", "infinity"],
  ])("prints %d as %s: %s", (value, format, text) => {
    expect(numberText(value, format)).toBe(text);
  });
});

describe("fixed", () => {
  // By definition, in whole numbers: a decimal with three places rounded by hand to two.
  it("rounds halves away from zero, whatever the binary form", () => {
    fc.assert(
      fc.property(fc.integer({ min: -2_000_000, max: 2_000_000 }), (thousandths) => {
        const size = Math.abs(thousandths);
        const hundredths = Math.floor(size / 10) + (size % 10 >= 5 ? 1 : 0);
        const sign = thousandths < 0 && hundredths > 0 ? "-" : "";
        const whole = Math.floor(hundredths / 100);
        const part = String(hundredths % 100).padStart(2, "0");
        expect(fixed(thousandths / 1000, 2)).toBe(`${sign}${whole}.${part}`);
      }),
      { numRuns: 2000 },
    );
  });
});
