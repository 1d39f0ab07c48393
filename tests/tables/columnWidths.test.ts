import fc from "fast-check";
import { describe, expect, it } from "vitest";
import type { TableModel } from "../../src/results/index.js";
import { columnWidths } from "../../src/tables/columnWidths.js";
import { printedTable } from "../../src/tables/printedTable.js";

// a letter is 1 wide, and nothing stands beside the text
const measure = (text: string) => text.length;
const tableOf = (rows: readonly (readonly string[])[]): TableModel => ({
  kind: "table",
  title: "",
  columns: rows[0].map((label) => ({ label, format: "text" })),
  rows: rows.slice(1).map((cells) => ({ cells })),
  notes: [],
});
const widthsOf = (rows: readonly (readonly string[])[], available: number) =>
  columnWidths(printedTable(tableOf(rows)), available, measure);

describe("columnWidths", () => {
  it("is the widest text of each column where all fits", () => {
    const rows = [
      ["a", "longer head"],
      ["three", "b"],
    ];
    expect(widthsOf(rows, 40)).toEqual([5, 11]);
    expect(widthsOf(rows, 16)).toEqual([5, 11]);
  });

  it("leaves a narrow column whole and breaks the wide ones", () => {
    const words = "aa ".repeat(30).trim();
    const [item, what, met] = widthsOf([["10a, 10b", words, words]], 68);
    expect([item, what, met]).toEqual([8, 30, 30]);
  });

  it("keeps a number with its interval on one line before it breaks one", () => {
    const rows = (text: string): TableModel => ({
      ...tableOf([["word word word word word", "n"]]),
      columns: [
        { label: text, format: "text" },
        { label: "n", format: "dioptres" },
      ],
      rows: [
        {
          cells: [
            "x",
            { kind: "estimate", value: 1, low: 0.5, high: 1.5, level: 0.95, method: "wilson" },
          ],
        },
      ],
    });
    const wide = columnWidths(printedTable(rows("word ".repeat(9).trim())), 30, measure);
    expect(wide[1]).toBe("1.00 (0.50 to 1.50)".length);
  });

  it("never takes more than there is, and breaks no word that has room", () => {
    const word = fc.stringMatching(/^[a-z]{1,9}$/);
    const cell = fc.array(word, { minLength: 1, maxLength: 12 }).map((words) => words.join(" "));
    const table = fc.integer({ min: 1, max: 6 }).chain((columns) =>
      fc.array(fc.array(cell, { minLength: columns, maxLength: columns }), {
        minLength: 1,
        maxLength: 5,
      }),
    );
    fc.assert(
      fc.property(table, fc.integer({ min: 10, max: 200 }), (rows, available) => {
        const widths = widthsOf(rows, available);
        expect(widths.reduce((sum, width) => sum + width, 0)).toBeLessThanOrEqual(available + 1e-9);
        const longest = rows[0].map((_, at) =>
          Math.max(...rows.flatMap((row) => row[at].split(" ").map(({ length }) => length))),
        );
        if (longest.reduce((sum, width) => sum + width, 0) <= available) {
          widths.forEach((width, at) => {
            expect(width).toBeGreaterThanOrEqual(longest[at] - 1e-9);
          });
        }
      }),
      { seed: 14, numRuns: 500 },
    );
  });
});
