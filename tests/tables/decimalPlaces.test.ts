import fc from "fast-check";
import { expect, it } from "vitest";
import { placeOf, wholePart } from "../../src/tables/decimalPlaces.js";
import { fixed, grouped } from "../../src/rows/index.js";

it("finds the whole part of what is printed, and none where there is no number", () => {
  expect(
    ["−1.82 (−2.38 to −1.63)", "233 (40.6 %)", "<0.0001", "20,000", "–"].map(wholePart),
  ).toEqual(["−1", "233", "<0", "20,000", "–"]);
  expect(["fewer than 11", "(0.79 to 0.90)", "", "at least 3.25"].map(wholePart)).toEqual(
    Array(4).fill(""),
  );
});

it("ends whole numbers at the right edge and aligns the others as wide as the longest", () => {
  expect(placeOf(["574", "1129", "20,000"])).toEqual({ align: "right", whole: 0 });
  expect(placeOf(["574", "-11.7", "–"])).toEqual({ align: "decimal", whole: 3 });
  expect(placeOf([])).toEqual({ align: "right", whole: 0 });
});

it("leaves before the decimal sign of any number exactly its whole part", () => {
  fc.assert(
    fc.property(fc.double({ min: -1e6, max: 1e6, noNaN: true }), (value) => {
      const text = grouped(fixed(value, 2));
      expect(`${wholePart(text)}.${text.split(".")[1]}`).toBe(text);
    }),
  );
});
