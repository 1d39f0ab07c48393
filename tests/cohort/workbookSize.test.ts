// Small workbooks that unpack to much; written here by the zip library, as Office Open XML (ECMA-376) has them.
import { mkdtempSync, writeFileSync } from "node:fs";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { strToU8, zipSync } from "fflate";
import { expect, it } from "vitest";
import { requireModestWorkbook } from "../../src/cohort/read/requireModestWorkbook.js";

function workbook(sheet: string): string {
  const path = join(mkdtempSync(join(tmpdir(), "workbook-")), "table.xlsx");
  const main = "http://schemas.openxmlformats.org/spreadsheetml/2006/main";
  const xml = `<?xml version="1.0"?><worksheet xmlns="${main}"><sheetData>${sheet}</sheetData></worksheet>`;
  writeFileSync(path, zipSync({ "xl/worksheets/sheet1.xml": strToU8(xml) }));
  return path;
}
const look = (sheet: string) => requireModestWorkbook(workbook(sheet), "read");

it("takes an ordinary sheet, and one with few cells far down", async () => {
  await look('<row r="1"><c r="A1"><v>1</v></c><c r="B1" t="s"><v>0</v></c></row>');
  await look('<row r="1048576"><c s="1" r="A1048576"><v>1</v></c></row>');
});

it("refuses a single cell in the last row and column, with the number and the cure", async () => {
  await expect(look('<row r="1048576"><c r="XFD1048576"><v>1</v></c></row>')).rejects.toThrow(
    "read requires a workbook of modest size, got table.xlsx, where sheet1.xml reaches over 17,179,869,184 cells " +
      "(at most 40,000,000); delete what stands outside the table, or save the sheet as CSV",
  );
});

it("leaves a damaged workbook to its reader", async () => {
  const path = join(mkdtempSync(join(tmpdir(), "workbook-")), "table.xlsx");
  writeFileSync(path, "PK\u0003\u0004 and no more");
  await requireModestWorkbook(path, "read");
});
