import { describe, expect, it } from "vitest";
import { InputError } from "../../src/results/index.js";
import {
  conditionCodes,
  neitherCode,
  requireLength,
  requireNumbers,
  requirePairs,
  requireSameLength,
  requireWeights,
  requireWhole,
  takeColumns,
  testCodes,
  yesNoCodes,
} from "../../src/rows/index.js";
import { wrong } from "../builders/wrong.js";

/** The message of a refusal, which is an InputError. */
function refusal(call: () => unknown): string {
  try {
    call();
  } catch (error) {
    expect(error).toBeInstanceOf(InputError);
    return (error as InputError).message;
  }
  throw new Error("nothing was refused");
}

describe("columns of one length", () => {
  it("are as long as the rows", () => {
    expect(() => requireLength("f", "ages", [1, 2], 2)).not.toThrow();
    expect(refusal(() => requireLength("f", "ages", [1], 2))).toBe(
      "f requires columns of one length, got 1 ages for 2 rows",
    );
    expect(refusal(() => requireLength("f", "ages", wrong(undefined), 2))).toBe(
      "f requires columns of one length, got no ages for 2 rows",
    );
  });

  it("are as long as one another, and there", () => {
    expect(requireSameLength("f", { a: [1, 2], b: "xy" })).toBe(2);
    expect(requireSameLength("f", {})).toBe(0);
    expect(refusal(() => requireSameLength("f", { a: [1, 2], b: [1] }))).toBe(
      "f requires columns of one length, got a 2, b 1",
    );
    expect(refusal(() => requireSameLength("f", { a: [1], b: wrong(undefined) }))).toBe(
      "f requires a column b, got undefined",
    );
  });

  it("leave those away that are not there, row by row in the order asked for", () => {
    expect(takeColumns({ a: [1, 2, 3], b: ["x", "y", "z"], c: undefined }, [2, 0])).toEqual({
      a: [3, 1],
      b: ["z", "x"],
    });
  });
});

describe("numbers", () => {
  it("are finite, but for rows that are not looked at", () => {
    const values = [1, Number.NaN, Number.POSITIVE_INFINITY];
    expect(refusal(() => requireNumbers("f", "age", values, 3))).toBe(
      "f requires finite numbers in age, got NaN in row 1; leave the row out, or decide beforehand how it counts",
    );
    const only = Uint8Array.of(1, 0, 0);
    expect(() => requireNumbers("f", "age", values, 3, { only })).not.toThrow();
  });

  it("may be NaN or infinite where NaN is for a missing one, but no words", () => {
    const missing = { missing: "NaN" } as const;
    const values = [1, Number.NaN, Number.POSITIVE_INFINITY];
    expect(() => requireNumbers("f", "age", values, 3, missing)).not.toThrow();
    expect(refusal(() => requireNumbers("f", "age", wrong([1, "2"]), 2, missing))).toBe(
      'f requires numbers (NaN where missing) in age, got "2" in row 1; write NaN for a value that is missing',
    );
  });

  it("of pairs are finite on both sides and enough", () => {
    expect(requirePairs("f", { test: [1, 2], reference: [3, 4] }, 2)).toBe(2);
    expect(refusal(() => requirePairs("f", { test: [1], reference: [3] }, 2))).toBe(
      "f requires at least 2 rows, got 1",
    );
    const gap = [1, Number.NaN];
    expect(refusal(() => requirePairs("f", { test: gap, reference: [3, 4] }, 2))).toMatch(
      /in test, got NaN in row 1;/,
    );
    expect(refusal(() => requirePairs("f", { test: [3, 4], reference: gap }, 2))).toMatch(
      /in reference, got NaN in row 1;/,
    );
  });

  it("that are weights are 0 or more, or above 0 where that is asked for", () => {
    expect(() => requireWeights("f", [0, 2.5], 2)).not.toThrow();
    expect(refusal(() => requireWeights("f", [0, 2.5], 2, "above 0"))).toBe(
      "f requires finite weights of above 0, got 0 in row 0",
    );
    expect(refusal(() => requireWeights("f", [1, -1], 2))).toBe(
      "f requires finite weights of 0 or more, got -1 in row 1",
    );
    expect(refusal(() => requireWeights("f", [1, Number.POSITIVE_INFINITY], 2))).toMatch(
      /got Infinity in row 1$/,
    );
    expect(refusal(() => requireWeights("f", [1], 2))).toMatch(/got 1 weights for 2 rows$/);
  });

  it("that count are whole and large enough", () => {
    expect(() => requireWhole("f", "folds", 2, 2)).not.toThrow();
    expect(refusal(() => requireWhole("f", "folds", 1, 2))).toBe(
      "f requires folds as a whole number of at least 2, got 1",
    );
    expect(refusal(() => requireWhole("f", "folds", 2.5, 2))).toMatch(/got 2.5$/);
  });
});

describe("yes and no", () => {
  const words = { yes: "refer", no: "pass", neither: "undecidable" };

  it("are true or 1, false or 0, and the words of the column", () => {
    const column = [true, 1, "refer", false, 0, "pass", "undecidable"];
    expect([...yesNoCodes("f", "test", column, { words })]).toEqual([1, 1, 1, 0, 0, 0, 2]);
    expect([...testCodes("f", "test", wrong(column))]).toEqual([1, 1, 1, 0, 0, 0, 2]);
  });

  it("are not guessed from anything else", () => {
    expect(refusal(() => yesNoCodes("f", "test", [1, "yes"], { words }))).toBe(
      'f requires test to be true, false, 1, 0, "refer", "pass" or "undecidable", got "yes" in row 1',
    );
    // a word that no option names is not the missing option
    expect(refusal(() => yesNoCodes("f", "test", [1, undefined]))).toBe(
      "f requires test to be true, false, 1 or 0, got undefined in row 1",
    );
    expect(refusal(() => yesNoCodes("f", "test", ["pass"], { cure: "mend it" }))).toMatch(
      /got "pass" in row 0; mend it$/,
    );
    expect(refusal(() => yesNoCodes("f", "test", wrong(undefined)))).toBe(
      "f requires a column test, got undefined",
    );
  });

  it("are not looked at in rows left out", () => {
    const only = Uint8Array.of(1, 0, 1);
    expect([...yesNoCodes("f", "test", [1, "?", 0], { only })]).toEqual([1, neitherCode, 0]);
    expect([...conditionCodes("f", "condition", [1, "?", 0], only)]).toEqual([1, neitherCode, 0]);
    expect(refusal(() => conditionCodes("f", "condition", wrong([1, null])))).toMatch(
      /^f requires condition .* got null in row 1; a row without a finding is neither/,
    );
  });
});
