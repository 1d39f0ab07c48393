import { describe, expect, test } from "vitest";
import { keeps, kept } from "./keptPromises.js";

// What plans promise, as found by the study of coverage.long.ts.
describe("the committed study", () => {
  test("has every plan", () => {
    expect(new Set(kept.map(({ name }) => name)).size).toBe(12);
    expect(Math.min(...kept.map(({ replicates }) => replicates))).toBe(5000);
  });

  test.each(kept)("$name: $what is what the plan says", (row) => keeps(row, 3.5));
});
