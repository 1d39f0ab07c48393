import type { Coded, Cohort, Findings, Readings } from "../cohort/index.js";
import type { Estimate, OneSided, TableCell, TableModel } from "../results/index.js";
import type { FrameCell } from "./frame.js";

/** Columns of equal length, by name, in the order in which a frame shows them. */
type FrameColumns = Readonly<Record<string, FrameCell[]>>;

/** One row a measurement: every column that the readings or findings have. */
export function measurementColumns(source: Readings | Findings): FrameColumns {
  const columns: Record<string, FrameCell[]> = {};
  for (const [name, column] of Object.entries(source)) {
    if (name === "line") continue;
    if (isCoded(column)) columns[name] = Array.from(column.codes, (code) => labelOf(column, code));
    else if (ArrayBuffer.isView(column)) columns[name] = Array.from(column as Float64Array);
  }
  for (const { label, type, values } of source.own ?? []) {
    // a column of one's own does not take the place of another
    const name = label in columns ? `own ${label}` : label;
    columns[name] =
      type === "number"
        ? Array.from(values)
        : Array.from(values.codes, (code) => labelOf(values, code) || null);
  }
  return columns;
}

/** One row an eye that has a reading or a finding; the columns of each side carry its name. */
export function cohortColumns({ children, readings, findings }: Cohort): FrameColumns {
  const rows = (["right", "left"] as const).flatMap((eye) =>
    Array.from({ length: children.n }, (_, child) => ({
      child,
      eye,
      reading: children.readingRow[eye][child]!,
      finding: children.findingRow[eye][child]!,
    })),
  );
  const present = rows
    .filter(({ reading, finding }) => reading >= 0 || finding >= 0)
    .sort((a, b) => a.child - b.child || (a.eye === b.eye ? 0 : a.eye === "right" ? -1 : 1));
  const columns: Record<string, FrameCell[]> = {
    subject: present.map(({ child }) => children.subject[child]!),
    eye: present.map(({ eye }) => eye),
    ageYears: present.map(({ child }) => children.ageYears[child]!),
    ageMonths: present.map(({ child }) => children.ageMonths[child]!),
    verification: present.map(({ child }) =>
      labelOf(children.verification, children.verification.codes[child]!),
    ),
  };
  const add = (prefix: "reading" | "finding", side: FrameColumns) => {
    for (const [name, column] of Object.entries(side)) {
      if (shared.has(name)) continue;
      const missing = column.every((cell) => typeof cell === "number") ? Number.NaN : null;
      columns[`${prefix}${name[0]!.toUpperCase()}${name.slice(1)}`] = present.map((row) =>
        row[prefix] < 0 ? missing : column[row[prefix]]!,
      );
    }
  };
  add("reading", measurementColumns(readings));
  add("finding", measurementColumns(findings));
  return columns;
}

/** Those that a child has once. */
const shared = new Set(["subject", "eye", "ageYears", "ageMonths", "site"]);

/** A table's columns; a column with estimates becomes three. */
export function tableColumns(table: TableModel): FrameColumns {
  const rows = table.rows.filter(({ heading }) => !heading);
  const columns: Record<string, FrameCell[]> = {};
  for (const [index, { label }] of table.columns.entries()) {
    const cells = rows.map((row) => row.cells[index] ?? null);
    const name = label === "" ? `column ${index + 1}` : label;
    columns[name] = cells.map(plain);
    if (!cells.some(isInterval)) continue;
    for (const end of ["low", "high"] as const) {
      columns[`${name} ${end}`] = cells.map((cell) =>
        isInterval(cell) ? (cell[end] ?? Number.NaN) : Number.NaN,
      );
    }
  }
  return columns;
}

function plain(cell: TableCell): FrameCell {
  if (typeof cell !== "object" || cell === null) return cell;
  return isInterval(cell) ? cell.value : null;
}

function isInterval(cell: TableCell): cell is Estimate | OneSided {
  return (
    typeof cell === "object" &&
    cell !== null &&
    (cell.kind === "estimate" || cell.kind === "one-sided")
  );
}

function isCoded(column: unknown): column is Coded {
  return typeof column === "object" && column !== null && "codes" in column && "labels" in column;
}

function labelOf({ labels }: Coded, code: number): string | null {
  return labels[code] ?? null;
}
