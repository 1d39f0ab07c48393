import type { TableModel } from "../results/index.js";
import { csvText } from "../text/index.js";
import { flatTable } from "./flatTable.js";

/**
 * A table as CSV (RFC 4180, LF line ends) for reuse: numbers unrounded; a column that holds an
 * estimate becomes three (value, low, high); what could not be estimated is written as its reason.
 * Text that begins with = + - @ (or a tab or carriage return) gets an apostrophe before it, so that
 * no spreadsheet takes it for a formula; numbers are left as they are. Title and notes are not
 * written.
 *
 * @param table a table model
 *
 * @example
 * toCsv({ kind: "table", title: "", columns: [{ label: "site", format: "text" }, { label: "n", format: "count" }], rows: [{ cells: ["=A1", -3] }], notes: [] }) // => "site,n\n'=A1,-3\n"
 */
export function toCsv(table: TableModel): string {
  const { header, rows } = flatTable(table);
  const lines = rows.map((row) => row.map(({ value }) => field(value)));
  return [header.map(field), ...lines].map((line) => `${line.join(",")}\n`).join("");
}

function field(value: string | number | null): string {
  if (value === null) return "";
  if (typeof value === "number") return String(value);
  return csvText(value);
}
