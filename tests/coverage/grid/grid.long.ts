// Makes the grid (`npm run coverage`): cells that tests/coverage/grid/grid.json does not hold, and those of
// the kinds named in ANEW (ANEW=conditional,repeats); written after each cell. Cells no longer in the grid go.
// Without COVERAGE_STUDY one small cell is made again and compared.
import { readFileSync, writeFileSync } from "node:fs";
import { expect, test } from "vitest";
import { cellKey, type GridCell, gridCells, runCell } from "./grid.js";
import type { GridRow } from "./table.js";

const file = new URL("./grid.json", import.meta.url);
const seed = 24;

if (process.env.COVERAGE_STUDY === "long") {
  const cells = gridCells();
  test(`the grid: ${cells.length} cells`, { timeout: 14_400_000 }, async () => {
    const anew = new Set(process.env.ANEW?.split(","));
    const { rows } = JSON.parse(readFileSync(file, "utf8")) as { rows: GridRow[] };
    const stored = (cell: GridCell) => rows.filter((row) => cellKey(row) === cellKey(cell));
    const made: GridRow[] = [];
    for (const [at, cell] of cells.entries()) {
      const before = anew.has(cell.kind) ? [] : stored(cell);
      made.push(...before);
      if (before.length === 0) {
        made.push(...(await runCell(cell, seed)).map((one) => ({ kind: cell.kind, ...one })));
      } else if (at < cells.length - 1) continue;
      const later = cells.slice(at + 1).flatMap(stored);
      const lines = [...made, ...later].map((row) => `  ${JSON.stringify(row)}`);
      writeFileSync(
        file,
        `{\n "level": 0.95,\n "seed": ${seed},\n "rows": [\n${lines.join(",\n")}\n ]\n}\n`,
      );
    }
    expect(made.length).toBeGreaterThan(cells.length);
  });
} else {
  test("a cell made again gives what is stored", async () => {
    const { rows } = JSON.parse(readFileSync(file, "utf8")) as { rows: GridRow[] };
    const cell = gridCells()[0];
    for (const row of await runCell(cell, seed))
      expect(rows).toContainEqual({ kind: cell.kind, ...row });
  });
}
