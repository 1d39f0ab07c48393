import { writeWorkbook } from "../platform/index.js";
import { type CellFormat, InputError, type TableModel } from "../results/index.js";
import { plainText, plainTexts } from "../text/index.js";
import { type FlatField, flatTable } from "./flatTable.js";
import { intervalNotes } from "./printedTable.js";

/**
 * Tables as an XLSX workbook, a sheet a table: title, columns, rows with unrounded numbers, notes. A
 * column that holds an interval becomes three (value, low, high), as in CSV. Every text is written as a
 * text, so that none is taken for a formula. Equal tables give equal bytes.
 *
 * @param given tables, one a sheet
 * @param tables at least one
 * @param options `names` of the sheets, the titles by default; cut to 31 characters and made unique
 * @throws InputError without a table
 *
 * @example
 * (await toWorkbook([{ kind: "table", title: "Sites", columns: [{ label: "site", format: "text" }], rows: [{ cells: ["=A1"] }], notes: [] }])).length > 1000 // => true
 */
export async function toWorkbook(
  given: readonly TableModel[],
  options: { readonly names?: readonly string[] } = {},
): Promise<Uint8Array> {
  const tables = plainTexts(given);
  if (tables.length === 0) throw new InputError("toWorkbook requires a table, got none");
  const { unzipSync, zipSync } = await import("fflate");
  const names = sheetNames(tables.map(({ title }, at) => plainText(options.names?.[at] ?? title)));
  const sheets = tables.map((table, at) => ({
    sheet: names[at],
    data: sheetRows(table),
    columns: columnsOf(table),
  }));
  const written = await writeWorkbook(sheets);
  // the writer stamps its entries with the time of day
  return zipSync(unzipSync(written), { mtime: new Date(1980, 0, 1) });
}

function sheetRows(table: TableModel) {
  const { header, rows } = flatTable(table);
  const headings = table.rows.map(({ heading }) => heading === true);
  return [
    [bold(table.title)],
    [],
    header.map(bold),
    ...rows.map((row, at) => row.map((field) => cellOf(field, headings[at]!))),
    [],
    ...[...intervalNotes(table), ...table.notes].map((note) => [text(note)]),
  ];
}

const text = (value: string) => ({ value, type: String }) as const;
const bold = (value: string) => ({ ...text(value), fontWeight: "bold" }) as const;

function cellOf({ value, format }: FlatField, heading: boolean) {
  if (value === null || value === "") return null;
  const weight = heading ? ({ fontWeight: "bold" } as const) : {};
  if (typeof value === "string") return { ...text(value), ...weight };
  // a workbook has no infinity
  if (!Number.isFinite(value)) return { ...text(value > 0 ? "infinity" : "-infinity"), ...weight };
  const shown = formats[format];
  const form = shown === undefined ? {} : { format: shown };
  return { value, type: Number, ...form, ...weight } as const;
}

const formats: { readonly [format in CellFormat]?: string } = {
  count: "#,##0",
  percent: "0.0%",
  dioptres: "0.00",
};

function columnsOf(table: TableModel) {
  const { header } = flatTable(table);
  const first = Math.max(...table.rows.map(({ cells }) => String(cells[0] ?? "").length), 10);
  return header.map((label, at) => ({
    width: at === 0 ? Math.min(70, first + 2) : Math.max(12, Math.min(30, label.length + 2)),
  }));
}

/** Without the signs that a sheet's name may not have, at most 31 characters, each once. */
function sheetNames(titles: readonly string[]): string[] {
  const names: string[] = [];
  for (const title of titles) {
    const clean =
      title
        .replace(/[[\]:*?/\\\s]/g, " ")
        .replace(/^'+|'+$/g, "")
        .trim() || "table";
    const cut = (length: number) => plainText(clean.slice(0, length)).trim();
    let name = cut(31);
    for (let copy = 2; names.some((one) => one.toLowerCase() === name.toLowerCase()); copy++) {
      name = `${cut(27)} ${copy}`;
    }
    names.push(name);
  }
  return names;
}
