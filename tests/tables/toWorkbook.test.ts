import { unzipSync } from "fflate";
import readWorkbook from "read-excel-file/node";
import { expect, it, vi } from "vitest";
import type { TableModel } from "../../src/results/index.js";
import { toWorkbook } from "../../src/tables/index.js";

const table: TableModel = {
  kind: "table",
  title: "Sites: first/second",
  columns: [
    { label: "site", format: "text" },
    { label: "children", format: "count" },
    { label: "referred", format: "percent" },
  ],
  rows: [
    { cells: ["=HYPERLINK(1)", 1234, estimate(0.25, 0.125, 0.5)] },
    { cells: ["+1", -0, { kind: "undefined", reason: "no trials" }] },
    { cells: ["@b", 3, { kind: "suppressed", reason: "small" }] },
    { cells: ["all", null, null], heading: true },
  ],
  notes: ["-a note"],
};

function estimate(value: number, low: number, high: number) {
  return { kind: "estimate", value, low, high, level: 0.95, method: "wilson" } as const;
}

// read back by another library
it("holds unrounded numbers and texts as they are, a sheet a table", async () => {
  const sheets = await readWorkbook(Buffer.from(await toWorkbook([table, table])));
  expect(sheets.map(({ sheet }) => sheet)).toEqual([
    "Sites  first second",
    "Sites  first second 2",
  ]);
  expect(sheets[0].data.filter((row) => row.some((cell) => cell !== null))).toEqual([
    ["Sites: first/second", null, null, null, null],
    ["site", "children", "referred", "referred low", "referred high"],
    ["=HYPERLINK(1)", 1234, 0.25, 0.125, 0.5],
    ["+1", 0, "not estimated: no trials", null, null],
    ["@b", 3, "suppressed: small", null, null],
    ["all", null, null, null, null],
    ['Intervals of "referred": Wilson', null, null, null, null],
    ["-a note", null, null, null, null],
  ]);
});

it("writes no formula, whatever a text begins with", async () => {
  const parts = unzipSync(await toWorkbook([table]));
  const text = (name: string) => new TextDecoder().decode(parts[name]);
  const sheet = text("xl/worksheets/sheet1.xml");
  expect(sheet).not.toMatch(/<f[ >]/);
  expect(text("xl/sharedStrings.xml")).toContain("=HYPERLINK(1)");
  expect(sheet).toContain("<v>0.125</v>");
});

it("gives equal bytes for equal tables", async () => {
  const first = await toWorkbook([table]);
  vi.useFakeTimers({ toFake: ["Date"], now: new Date(2001, 1, 1) });
  const second = await toWorkbook([table]);
  vi.useRealTimers();
  expect(Buffer.compare(Buffer.from(first), Buffer.from(second))).toBe(0);
});

it("requires a table", async () => {
  await expect(toWorkbook([])).rejects.toThrow("toWorkbook requires a table, got none");
});
