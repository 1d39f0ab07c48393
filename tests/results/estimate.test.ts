import { describe, expect, it } from "vitest";
import { undefinedBecause } from "../../src/results/estimate.js";

describe("undefinedBecause", () => {
  it("keeps a lower limit that is known, and has no such member where none is", () => {
    expect(undefinedBecause("no case", { low: 2 })).toStrictEqual({
      kind: "undefined",
      reason: "no case",
      low: 2,
    });
    expect(undefinedBecause("no case")).toStrictEqual({ kind: "undefined", reason: "no case" });
  });
});
