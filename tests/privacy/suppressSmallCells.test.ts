import fc from "fast-check";
import { describe, expect, it } from "vitest";
import { suppressSmallCells } from "../../src/privacy/suppressSmallCells.js";
import type { TableModel } from "../../src/results/index.js";

function tableOf(counts: readonly (readonly number[])[]): TableModel {
  return {
    kind: "table",
    title: "",
    columns: counts[0]!.map((_, at) => ({ label: `c${at}`, format: "count" as const })),
    rows: counts.map((cells) => ({ cells })),
    notes: [],
  };
}

const hidden = (table: TableModel) =>
  table.rows.map(({ cells }) => cells.map((cell) => typeof cell === "object"));

/** Rows and columns of sums added below and to the right. */
function withTotals(counts: readonly (readonly number[])[]): number[][] {
  const sum = (line: readonly number[]) => line.reduce((a, b) => a + b, 0);
  const rows = counts.map((row) => [...row, sum(row)]);
  return [...rows, rows[0]!.map((_, at) => sum(rows.map((row) => row[at]!)))];
}

/**
 * By definition: whether a hidden cell has one value only among all real tables with the same shown
 * cells and sums. Gaussian elimination over the hidden cells of a table with its totals.
 */
function determined(full: readonly (readonly number[])[], out: readonly boolean[][]): boolean {
  const cells = full
    .flatMap((row, r) => row.map((_, c) => [r, c] as const))
    .filter(([r, c]) => out[r]![c]);
  const equations = [
    ...full.map((_, r) =>
      cells.map(([row, column]) => (row === r ? (column === full[0]!.length - 1 ? -1 : 1) : 0)),
    ),
    ...full[0]!.map((_, c) =>
      cells.map(([row, column]) => (column === c ? (row === full.length - 1 ? -1 : 1) : 0)),
    ),
  ];
  let rank = 0;
  const pivots: number[] = [];
  for (let at = 0; at < cells.length; at++) {
    const pivot = equations.findIndex((line, i) => i >= rank && Math.abs(line[at]!) > 1e-9);
    if (pivot < 0) continue;
    [equations[rank], equations[pivot]] = [equations[pivot]!, equations[rank]!];
    const lead = equations[rank]!;
    for (const [i, line] of equations.entries()) {
      if (i === rank || Math.abs(line[at]!) < 1e-9) continue;
      const factor = line[at]! / lead[at]!;
      for (let j = 0; j < line.length; j++) line[j]! -= factor * lead[j]!;
    }
    pivots.push(at);
    rank++;
  }
  return pivots.some(
    (_, i) => equations[i]!.filter((value) => Math.abs(value) > 1e-9).length === 1,
  );
}

describe("suppressSmallCells", () => {
  it("takes out a small count and a second one, so that the sum does not give it back", () => {
    expect(hidden(suppressSmallCells(tableOf([[4], [60], [30]])))).toEqual([
      [true],
      [false],
      [true],
    ]);
  });

  it("shows a table without small counts, and zeros, as they are", () => {
    const table = tableOf([
      [11, 20],
      [0, 40],
    ]);
    expect(suppressSmallCells(table)).toEqual(table);
  });

  it("takes out more where the cells taken out add up to less than the threshold", () => {
    expect(
      hidden(suppressSmallCells(tableOf([[2], [3], [50], [40]]), { sums: "columns" })),
    ).toEqual([[true], [true], [false], [true]]);
  });

  it("takes out shares and estimates in a row with a count taken out", () => {
    const table: TableModel = {
      ...tableOf([[0]]),
      columns: [
        { label: "n", format: "count" },
        { label: "share", format: "percent" },
        { label: "group", format: "text" },
      ],
      rows: [{ cells: [5, 0.05, "a"] }, { cells: [45, 0.45, "b"] }, { cells: [50, 0.5, "c"] }],
    };
    const { rows, notes } = suppressSmallCells(table);
    expect(rows.map(({ cells }) => cells.map((cell) => typeof cell === "object"))).toEqual([
      [true, true, false],
      [true, true, false],
      [false, false, false],
    ]);
    expect(notes).toHaveLength(1);
  });

  it("leaves no cell that follows from the totals, and none of its shown counts small", () => {
    const size = fc.integer({ min: 2, max: 4 });
    const tables = fc.tuple(size, size).chain(([rows, columns]) =>
      fc.array(fc.array(fc.nat(40), { minLength: columns, maxLength: columns }), {
        minLength: rows,
        maxLength: rows,
      }),
    );
    fc.assert(
      fc.property(tables, (counts) => {
        const full = withTotals(counts);
        const out = hidden(suppressSmallCells(tableOf(full), { totalRow: -1, totalColumn: -1 }));
        const smallShown = full.some((row, r) =>
          row.some((count, c) => count > 0 && count < 11 && !out[r]![c]),
        );
        return !smallShown && !determined(full, out);
      }),
      { numRuns: 500 },
    );
  });

  it("is checked by a definition that sees a single hidden cell", () => {
    const full = withTotals([
      [4, 60],
      [60, 60],
    ]);
    const one = full.map((row, r) => row.map((_, c) => r === 0 && c === 0));
    expect(determined(full, one)).toBe(true);
    const square = full.map((row, r) => row.map((_, c) => r < 2 && c < 2));
    expect(determined(full, square)).toBe(false);
  });

  it("takes out the share below a count that is out, and no other", () => {
    const table: TableModel = {
      kind: "table",
      title: "",
      columns: [
        { label: "", format: "text" },
        { label: "n", format: "count" },
      ],
      rows: [4, 60, 30].flatMap((n) => [
        { cells: ["Group", n] },
        { cells: ["  share", n / 94], format: "percent" as const, shareOfAbove: true as const },
      ]),
      notes: [],
    };
    const { rows } = suppressSmallCells(table);
    expect(rows.map(({ cells }) => typeof cells[1])).toEqual([
      "object",
      "object",
      "number",
      "number",
      "object",
      "object",
    ]);
  });

  it("takes out a mean, an SD and a quantile of a small group as its count is, and what compares with it", () => {
    const known = [null, 63, 3, 60, null];
    const table: TableModel = {
      kind: "table",
      title: "",
      columns: ["", "All", "a", "b", "difference"].map((label, at) => ({
        label,
        format: at === 0 ? ("text" as const) : ("number" as const),
      })),
      rows: [
        { cells: ["Children", 140, 70, 70, null], format: "count" },
        { cells: ["Age, mean", 5.2, 6.1, 5.1, 0.7], behind: known },
        { cells: ["  median", 5, 6, 5, 0.6], behind: known },
        { cells: ["  not known", 77, 67, 10, null], format: "count", behind: known },
        { cells: ["M, mean", 0.5, 0.6, 0.4, 0.1], behind: [null, 140, 70, 70, null] },
      ],
      notes: [],
    };
    const { rows } = suppressSmallCells(table, { sums: "rows", totalColumn: 1 });
    expect(
      rows.map(({ cells }) => cells.map((cell) => cell !== null && typeof cell === "object")),
    ).toEqual([
      [false, false, false, false, false],
      // 3 of a, and 60 of b, which would give 3 beside the whole
      [false, false, true, true, true],
      [false, false, true, true, true],
      // 70 less 67 is 3
      [false, false, true, true, false],
      [false, false, false, false, false],
    ]);
    // how many values there were is not handed on
    expect(JSON.stringify(rows)).not.toContain("behind");
  });

  it("takes out what stands below a count that is out where nothing is said of the values behind it", () => {
    const table: TableModel = {
      ...tableOf([[0]]),
      columns: [
        { label: "", format: "text" },
        { label: "n", format: "count" },
      ],
      rows: [4, 60, 30].flatMap((n) => [
        { cells: ["Group", n] },
        { cells: ["  mean", 5.5], format: "number" as const },
      ]),
    };
    const { rows } = suppressSmallCells(table);
    expect(rows.map(({ cells }) => typeof cells[1] === "object")).toEqual([
      true,
      true,
      false,
      false,
      true,
      true,
    ]);
  });

  it("hides a count in a heading row too", () => {
    const table = tableOf([[60], [4], [30]]);
    const rows = table.rows.map((row, at) => (at === 1 ? { ...row, heading: true } : row));
    expect(hidden(suppressSmallCells({ ...table, rows }))[1]).toEqual([true]);
  });

  it("does not touch its input", () => {
    const table = tableOf([[4], [60], [30]]);
    const before = JSON.stringify(table);
    suppressSmallCells(Object.freeze(table));
    expect(JSON.stringify(table)).toBe(before);
  });

  it("refuses counts that are none and a threshold that protects nobody", () => {
    expect(() => suppressSmallCells(tableOf([[2.5]]))).toThrow(
      "whole counts of at least 0, got 2.5",
    );
    expect(() => suppressSmallCells(tableOf([[2]]), { fewerThan: 1 })).toThrow("got 1");
  });
});
