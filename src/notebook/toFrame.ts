import {
  type Cohort,
  type CohortTable,
  eyesAsTable,
  type Findings,
  type Readings,
} from "../cohort/index.js";
import { InputError, type TableModel } from "../results/index.js";
import { danfojsFrame } from "./danfojs.js";
import type { Frame } from "./frame.js";
import { cohortColumns, measurementColumns, tableColumns } from "./frameColumns.js";

/**
 * A danfojs DataFrame of a cohort (one row an eye of a child, reading and finding side by side),
 * of a result of `cohortTable` (the same with M, J0, J45 and their differences), of readings or findings (one row
 * a measurement), or of a table (estimates as three columns:
 * the value, its low and its high end). Dioptres, degrees, millimetres, months; what is missing
 * is NaN in a column of numbers and null in a column of texts.
 *
 * Holds one row per eye: for looking and slicing on your own machine. Take statistics from the
 * functions of this package, not from a frame: see `Frame` for why.
 *
 * @throws when danfojs is not installed (the message says what to add), or when there is no row
 *
 * @example
 * toFrame({ kind: "table", title: "t", columns: [{ label: "M", format: "dioptres" }], rows: [{ cells: [-1.25] }], notes: [] }).shape // => [1, 1]
 */
export function toFrame(source: Cohort | CohortTable | Readings | Findings | TableModel): Frame {
  const columns = columnsOf(source);
  const rows = Math.max(0, ...Object.values(columns).map(({ length }) => length));
  if (rows === 0) throw new InputError("toFrame requires at least one row, got none");
  return danfojsFrame(columns);
}

function columnsOf(source: Cohort | CohortTable | Readings | Findings | TableModel) {
  if (typeof source !== "object" || source === null) return refuse(source);
  switch (source.kind) {
    case "cohort":
      return cohortColumns(source);
    case "readings":
    case "findings":
      return measurementColumns(source);
    case "cohort-table":
      return tableColumns(eyesAsTable(source));
    case "table":
      return tableColumns(source);
    default:
      return refuse(source);
  }
}

function refuse(source: unknown): never {
  throw new InputError(
    `toFrame requires a cohort, a cohort table, readings, findings or a table, got ${typeof source}`,
  );
}
