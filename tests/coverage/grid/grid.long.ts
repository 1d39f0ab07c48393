// Makes the grid again (`npm run coverage`) and writes tests/coverage/grid/grid.json after each cell.
// Without COVERAGE_STUDY one small cell is made again and compared.
import { readFileSync, writeFileSync } from "node:fs";
import { expect, test } from "vitest";
import { gridCells, runCell } from "./grid.js";
import type { GridRow } from "./table.js";

const file = new URL("./grid.json", import.meta.url);
const seed = 24;

if (process.env.COVERAGE_STUDY === "long") {
  const cells = gridCells();
  test(`the grid: ${cells.length} cells`, { timeout: 14_400_000 }, () => {
    const made: GridRow[] = [];
    for (const cell of cells) {
      made.push(...runCell(cell, seed).map((one) => ({ kind: cell.kind, ...one })));
      const lines = made.map((row) => `  ${JSON.stringify(row)}`);
      writeFileSync(
        file,
        `{\n "level": 0.95,\n "seed": ${seed},\n "rows": [\n${lines.join(",\n")}\n ]\n}\n`,
      );
    }
    expect(made.length).toBeGreaterThan(cells.length);
  });
} else {
  test("a cell made again gives what is stored", () => {
    const { rows } = JSON.parse(readFileSync(file, "utf8")) as { rows: GridRow[] };
    const cell = gridCells()[0];
    for (const row of runCell(cell, seed)) expect(rows).toContainEqual({ kind: cell.kind, ...row });
  });
}
