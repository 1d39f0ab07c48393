import { describe, expect, it } from "vitest";
import { crossClassify } from "../../src/accuracy/index.js";

const test = ["refer", "pass", "undecidable", "refer", "undecidable", "pass"] as const;
const reference = [true, true, true, false, false, false];

describe("crossClassify", () => {
  it("counts the same in every spelling", () => {
    const expected = { truePositive: 1, falsePositive: 1, falseNegative: 1, trueNegative: 1 };
    expect(crossClassify({ test: [1, 0, 1, 0], reference: [1, 1, 0, 0] })).toEqual(expected);
    expect(
      crossClassify({ test: Uint8Array.of(1, 0, 1, 0), reference: [true, true, false, false] }),
    ).toEqual(expected);
    expect(
      crossClassify({ test: ["refer", "pass", "refer", "pass"], reference: [1, 1, 0, 0] }),
    ).toEqual(expected);
  });

  it.each([
    ["refer", [2, 2, 1, 1]],
    ["pass", [1, 1, 2, 2]],
    ["exclude", [1, 1, 1, 1]],
  ] as const)("undecidable: %s", (undecidable, [tp, fp, fn, tn]) => {
    expect(crossClassify({ test, reference }, { undecidable })).toEqual({
      truePositive: tp,
      falsePositive: fp,
      falseNegative: fn,
      trueNegative: tn,
    });
  });

  it("refuses an unstated policy, other lengths, and values that are neither", () => {
    expect(() => crossClassify({ test, reference })).toThrow(/requires undecidable/);
    expect(() => crossClassify({ test: [1], reference: [] })).toThrow(
      /one length, got test 1, reference 0/,
    );
    expect(() => crossClassify({ test: [2], reference: [1] })).toThrow(/got 2 in row 0/);
    expect(() => crossClassify({ test: [1], reference: [Number.NaN] })).toThrow(/reference/);
    expect(() => crossClassify({ test: [1], reference: ["inconclusive"] })).toThrow(/reference/);
  });
});
