import { basename, readWorkbook } from "../../platform/index.js";
import { InputError } from "../../results/index.js";
import type { ColumnMapping } from "../columnMapping.js";
import { type TextTable, tableOf } from "./textTable.js";

/**
 * One sheet of an XLSX workbook as a table of text; the first one unless a name or a number says
 * otherwise. Dates become text such as 2026-11-25.
 *
 * @throws InputError for a file that is no workbook, or a sheet that is not there
 */
export async function readXlsx(
  path: string,
  { sheet, decimal }: NonNullable<ColumnMapping["text"]>,
  caller: string,
): Promise<TextTable> {
  const file = basename(path);
  const sheets = await workbook(path, caller);
  const found =
    typeof sheet === "string"
      ? sheets.find(({ sheet: name }) => name === sheet)
      : sheets[(sheet ?? 1) - 1];
  if (found === undefined) {
    const names = sheets.map((one) => `"${one.sheet}"`).join(", ");
    throw new InputError(
      `${caller} requires the sheet ${sheet ?? 1} of ${file}, got a workbook with ${names}; name one of these as "sheet"`,
    );
  }
  const rows = found.data;
  if (rows.length < 2) {
    throw new InputError(
      `${caller} requires at least one row under the header, got none (${file}); if the rows are on another sheet, name it: "text": { "sheet": … }`,
    );
  }
  const [header, ...records] = rows.map((row) => row.map(cellText));
  return tableOf(
    file,
    header.map((name) => name.trim()),
    records,
    { decimal },
  );
}

/** The names of a workbook's sheets that hold something; none for a file that is no workbook. */
export async function sheetNames(path: string): Promise<string[]> {
  if (!/\.xls[xm]$/i.test(path)) return [];
  const sheets = await workbook(path, "sheetNames");
  return sheets.filter(({ data }) => data.length > 0).map(({ sheet }) => sheet);
}

async function workbook(path: string, caller: string) {
  const { requireModestWorkbook } = await import("./requireModestWorkbook.js");
  await requireModestWorkbook(path, caller);
  try {
    return await readWorkbook(path);
  } catch {
    throw new InputError(
      `${caller} requires an intact XLSX workbook, got a file that is none (${basename(path)}); save it anew as XLSX or CSV`,
    );
  }
}

function cellText(value: unknown): string {
  if (value === null || value === undefined) return "";
  if (value instanceof Date) return value.toISOString().replace(/T00:00:00\.000Z$/, "");
  return String(value);
}
