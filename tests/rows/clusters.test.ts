import { describe, expect, it } from "vitest";
import {
  bandOfRows,
  bandText,
  clustersOf,
  examinedRows,
  groupRows,
  isLabel,
  rowsByCluster,
  rowsOfGroups,
} from "../../src/rows/index.js";
import { wrong } from "../builders/wrong.js";

describe("whose row it is", () => {
  it("is numbered in the order of first appearance", () => {
    const clusters = clustersOf("f", ["b", "a", "b", "c"], 4);
    expect(clusters).toEqual({
      count: 3,
      ofRow: Int32Array.of(0, 1, 0, 2),
      sizes: Int32Array.of(2, 1, 1),
      repeated: true,
    });
    expect(rowsByCluster(clusters)).toEqual({
      start: Int32Array.of(0, 2, 3, 4),
      rows: Int32Array.of(0, 2, 1, 3),
    });
    expect(clustersOf("f", ["a", "b"], 2).repeated).toBe(false);
  });

  it("is each row's own without labels", () => {
    expect(clustersOf("f", undefined, 2)).toEqual({
      count: 2,
      ofRow: Int32Array.of(0, 1),
      sizes: Int32Array.of(1, 1),
      repeated: false,
    });
  });

  it("has a column of a name", () => {
    expect(() => clustersOf("f", ["a", ""], 2)).toThrow(
      "f requires subjects without gaps, got an empty word in row 1; leave the row out, or give it a label of its own",
    );
    expect(() => clustersOf("f", ["a"], 2, "strata")).toThrow("got 1 strata for 2 rows");
  });

  it("may be said by yes or no", () => {
    expect([true, false, 0, "x"].map(isLabel)).toEqual([true, true, true, true]);
    expect([undefined, null, Number.NaN, " "].map(isLabel)).toEqual([false, false, false, false]);
  });
});

describe("groups of rows", () => {
  it("count who is in none", () => {
    expect(rowsOfGroups(Int32Array.of(1, -1, 0, 1), 2)).toEqual({
      rows: [[2], [0, 3]],
      outside: 1,
    });
  });

  it("have their labels", () => {
    expect(groupRows("f", [7, 3, 7], 3)).toEqual([
      { label: "7", rows: [0, 2] },
      { label: "3", rows: [1] },
    ]);
    expect(() => groupRows("f", [7], 2)).toThrow("got 1 groups for 2 rows");
  });
});

describe("age bands", () => {
  const bands = [
    { fromMonths: 36, toMonths: 72 },
    { fromMonths: 12, toMonths: 36 },
  ];

  it("hold their first month and not their last", () => {
    const ages = [11, 12, 35, 36, 71, 72, Number.NaN];
    expect([...bandOfRows("f", ages, 7, bands)]).toEqual([-1, 1, 1, 0, 0, -1, -1]);
    expect(bandText(bands[0])).toBe("36 to below 72 months");
  });

  it("are there, in order and apart", () => {
    const none = "f requires age bands, got none";
    expect(() => bandOfRows("f", [12], 1, [])).toThrow(none);
    expect(() => bandOfRows("f", [12], 1, wrong(undefined))).toThrow(none);
    const overlap = [...bands, { fromMonths: 71, toMonths: 80 }];
    expect(() => bandOfRows("f", [12], 1, overlap)).toThrow(
      "f requires age bands that do not overlap, got 71 to 80 months",
    );
    const empty = [{ fromMonths: 12, toMonths: 12 }];
    expect(() => bandOfRows("f", [12], 1, empty)).toThrow(/got 12 to 12 months$/);
    expect(() => bandOfRows("f", wrong(["12"]), 1, bands)).toThrow(/in ageMonths, got "12"/);
  });
});

describe("examined rows", () => {
  it("stand for the rows of their stratum", () => {
    const examined = [1, 0, 0, 1, 1, 0];
    const strata = ["pass", "pass", "pass", "refer", "refer", "refer"];
    const found = examinedRows("f", { examined, strata }, 6);
    expect([...found.weights]).toEqual([3, 0, 0, 1.5, 1.5, 0]);
    expect([...found.examined]).toEqual(examined);
  });

  it("are in every stratum", () => {
    expect(() => examinedRows("f", { examined: [0, 1], strata: ["pass", "refer"] }, 2)).toThrow(
      "f requires an examined row in every stratum, got none in pass; join it to another stratum",
    );
    expect(() => examinedRows("f", { examined: wrong([1, "?"]), strata: ["a", "b"] }, 2)).toThrow(
      /^f requires examined to be true, false, 1 or 0, got "\?" in row 1/,
    );
    expect(() => examinedRows("f", { examined: [1, 1], strata: ["a", ""] }, 2)).toThrow(
      /^f requires strata without gaps, got an empty word in row 1/,
    );
    expect(() => examinedRows("f", { examined: [1, 0], strata: ["a", "b"] }, 2, "look")).toThrow(
      /got none in b; look$/,
    );
  });
});
