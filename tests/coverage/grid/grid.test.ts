// The grid's table and the READMEs' claims are made of its numbers.
// RENEW=1 npx vitest run tests/coverage/grid/grid.test.ts writes them anew.
import { readFileSync, writeFileSync } from "node:fs";
import { expect, test } from "vitest";
import { cellKey, gridCells } from "./grid.js";
import { type GridRow, gridClaims, gridTable, measuredLines } from "./table.js";

const { seed, rows } = JSON.parse(
  readFileSync(new URL("./grid.json", import.meta.url), "utf8"),
) as { seed: number; rows: GridRow[] };
const places = new Set(rows.map(cellKey));

function kept(file: URL, wanted: (text: string) => string): void {
  const text = readFileSync(file, "utf8");
  if (process.env.RENEW === "1") writeFileSync(file, wanted(text));
  expect(readFileSync(file, "utf8")).toBe(wanted(readFileSync(file, "utf8")));
}

const between = (text: string, made: string) =>
  text.replace(/(<!-- grid -->\n)[\s\S]*?(<!-- end of grid -->)/, `$1\n${made}\n\n$2`);

test("the table is that of the data, and says how much of the grid it holds", () => {
  const head = `${places.size} of ${gridCells().length} cells, seed ${seed}.`;
  kept(new URL("./README.md", import.meta.url), (text) =>
    between(text, `${head}\n\n${gridTable(rows)}`),
  );
});

test.each(Object.entries(gridClaims(rows)))(
  "the README of %s claims what was measured",
  (room, claims) => {
    const file = new URL(`../../../src/${room}/README.md`, import.meta.url);
    expect(readFileSync(file, "utf8")).toContain("<!-- grid -->");
    kept(file, (text) => between(text, claims.join("\n")));
  },
);

test("what a report says of intervals is what was measured", () => {
  kept(new URL("../../../src/study/report/measuredCoverage.ts", import.meta.url), (text) =>
    text.replace(/`[^`]*`/, () => `\`\n${measuredLines(rows).join("\n")}\n\``),
  );
});

test("by the grid percentile limits hold where limits if normal do not", () => {
  const least = (start: string, shape: string) =>
    Math.min(
      ...rows
        .filter((row) => row.interval.startsWith(start) && row.shape === shape)
        .filter((row) => row.covered !== null && row.sites === 0 && row.children >= 200)
        .map((row) => row.covered!),
    );
  expect(least("limit, percentile", "normal")).toBeGreaterThan(0.93);
});
