import type { TableCell, TableColumn, TableModel } from "../results/index.js";

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
export function toCsv({ columns, rows }: TableModel): string {
  const wide = columns.map((_, at) => rows.some(({ cells }) => isInterval(cells[at])));
  const header = columns.flatMap((column, at) => {
    const label = labelOf(column);
    return wide[at] ? [label, `${label} low`, `${label} high`] : [label];
  });
  const lines = rows.map(({ cells }) =>
    columns.flatMap((_, at) => fields(cells[at] ?? null, wide[at]!)),
  );
  return [header.map(textField), ...lines].map((line) => `${line.join(",")}\n`).join("");
}

function fields(cell: TableCell, wide: boolean): readonly string[] {
  const padded = (...written: readonly string[]) =>
    wide ? [...written, "", ""].slice(0, 3) : written;
  if (cell === null) return padded("");
  if (typeof cell === "string") return padded(textField(cell));
  if (typeof cell === "number") return padded(numberField(cell));
  switch (cell.kind) {
    case "estimate":
      return [cell.value, cell.low, cell.high].map(numberField);
    case "one-sided":
      return [cell.value, cell.low ?? Number.NaN, cell.high ?? Number.NaN].map(numberField);
    case "undefined": {
      const ends = [cell.low, cell.high].map((end) => (end === undefined ? "" : numberField(end)));
      return padded(textField(`not estimated: ${cell.reason}`), ...ends);
    }
    case "suppressed":
      return padded(textField(`suppressed: ${cell.reason}`));
  }
}

function isInterval(cell: TableCell | undefined): boolean {
  if (typeof cell !== "object" || cell === null) return false;
  return (
    cell.kind === "estimate" ||
    cell.kind === "one-sided" ||
    (cell.kind === "undefined" && cell.low !== undefined)
  );
}

function labelOf({ label, unit }: TableColumn): string {
  return unit === undefined ? label : `${label} (${unit})`;
}

function numberField(value: number): string {
  return Number.isNaN(value) ? "" : String(value === 0 ? 0 : value);
}

function textField(text: string): string {
  const safe = /^[\s]*[=+\-@\t\r]/.test(text) ? `'${text}` : text;
  return /[",\r\n]/.test(safe) ? `"${safe.replaceAll('"', '""')}"` : safe;
}
