import fc from "fast-check";
import { describe, expect, it } from "vitest";
import { countsAlong } from "../../src/privacy/countsAlong.js";
import { keptCounts } from "../../src/privacy/keptCounts.js";
import { bandOf, publicBands } from "../../src/privacy/shareBands.js";
import { shownGrid } from "../../src/privacy/shownGrid.js";
import { shownPairs } from "../../src/privacy/shownPairs.js";
import { shownTables } from "../../src/privacy/shownTables.js";
import { suppressSmallCells } from "../../src/privacy/suppressSmallCells.js";

const isSmall = (count: number) => count > 0 && count < 11;

describe("keptCounts", () => {
  it("keeps the large ones, and as many as leave nobody or at least 11 in the rest", () => {
    fc.assert(
      fc.property(fc.array(fc.nat(40), { maxLength: 12 }), (list) => {
        const members = [...list].sort((a, b) => b - a);
        const { kept, rest } = keptCounts(members, (n) => n, 11);
        expect(kept).toEqual(members.slice(0, kept.length));
        const left = members.slice(kept.length).reduce((sum, n) => sum + n, 0);
        expect(rest).toBe(left);
        expect(kept.every((n) => n >= 11)).toBe(true);
        if (kept.length > 0) expect(isSmall(rest)).toBe(false);
        // no more is given up than is needed: with one more kept the rest would be small, or that one is
        const next = members[kept.length];
        if (next !== undefined && next >= 11) expect(isSmall(rest - next)).toBe(true);
      }),
    );
  });
});

describe("countsAlong", () => {
  const rows = fc.array(
    fc.tuple(fc.integer({ min: -40, max: 40 }), fc.integer({ min: -16, max: 16 })),
    {
      minLength: 1,
      maxLength: 300,
    },
  );

  it("counts the pairs between two edges, the lower included", () => {
    fc.assert(
      fc.property(rows, (list) => {
        const x = list.map(([a]) => a / 20);
        const y = list.map(([, b]) => b / 8);
        const shown = shownPairs({ x, y }, { audience: "journal", step: 0.125 });
        const bands = countsAlong(shown, 0.25);
        for (const { y: from, y2, n } of bands) {
          expect(y.filter((value) => value >= from && value < y2)).toHaveLength(n);
        }
        expect(bands.reduce((sum, { n }) => sum + n, 0)).toBe(list.length);
      }),
    );
  });

  it("adds up the cells of a row, and no more than these", () => {
    fc.assert(
      fc.property(rows, (list) => {
        // more than 4,000 are counted in cells for a journal
        const many = Array.from({ length: 4001 }, (_, at) => list[at % list.length]!);
        const x = many.map(([a]) => a / 20);
        const y = many.map(([, b]) => b / 8);
        const shown = shownPairs({ x, y }, { cell: 1, audience: "journal" });
        if (shown.kind !== "counted-pairs") throw new Error("cells expected");
        const bands = countsAlong(shown, 0.25);
        for (const { y: from, y2, n } of bands) {
          const cells = shown.cells.filter((cell) => cell.y === from);
          expect(cells.every((cell) => cell.y2 === y2)).toBe(true);
          expect(n).toBe(cells.reduce((sum, cell) => sum + cell.n, 0));
        }
        expect(bands.map(({ y: from }) => from)).toEqual(
          [...new Set(shown.cells.map((cell) => cell.y))].sort((a, b) => a - b),
        );
      }),
      { numRuns: 20 },
    );
  });
});

describe("shownGrid", () => {
  it("shows the cells that a table for the public shows; all to a journal", () => {
    const grid = fc
      .tuple(fc.integer({ min: 1, max: 4 }), fc.integer({ min: 1, max: 4 }))
      .chain(([rows, columns]) =>
        fc.array(fc.array(fc.nat(30), { minLength: columns, maxLength: columns }), {
          minLength: rows,
          maxLength: rows,
        }),
      );
    fc.assert(
      fc.property(grid, (counts) => {
        const table = suppressSmallCells({
          kind: "table",
          title: "",
          columns: counts[0].map(() => ({ label: "", format: "count" }) as const),
          rows: counts.map((cells) => ({ cells })),
          notes: [],
        });
        const seen = table.rows.map(({ cells }) =>
          cells.map((cell) => (typeof cell === "number" ? cell : null)),
        );
        expect(shownGrid(counts, "public")).toEqual(seen);
        expect(shownGrid(counts, "journal")).toEqual(counts);
      }),
    );
  });
});

it("shownTables shows the first that may be seen, and no second one that is near", () => {
  const table = (truePositive: number, falsePositive: number) => ({
    truePositive,
    falseNegative: 50 - truePositive,
    falsePositive,
    trueNegative: 100 - falsePositive,
  });
  const tables = [table(30, 40), table(35, 40), table(30, 45), table(15, 60), table(45, 70)];
  expect(shownTables(tables, "public")).toEqual([true, false, false, true, false]);
  expect(shownTables(tables, "journal")).toEqual(tables.map(() => true));
  // of 50 with the condition 9 are not decided: a count of its own, which 41 gives back
  const undecided = { ...table(41, 20), falseNegative: 0 };
  expect(shownTables([table(30, 40), undecided], "public")).toEqual([true, false]);
});

it("bandOf finds the band whose lower end belongs to it, and 1 in the last", () => {
  const bands = publicBands("test", 50, "children");
  expect([0, 0.2499, 0.25, 0.75, 1].map((rate) => bandOf(bands, rate).low)).toEqual([
    0, 0, 0.25, 0.75, 0.75,
  ]);
  expect(() => publicBands("test", 21, "children")).toThrow(
    "test for the public requires at least 22",
  );
});
