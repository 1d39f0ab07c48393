import type { TableCell, TableModel } from "../results/index.js";
import type { Frame } from "./frame.js";

const mostRows = 10;

/** Whether a value is a frame: its class comes from a library that is loaded only where frames are made. */
export function isFrame(value: object): value is Frame {
  return (
    value.constructor?.name === "DataFrame" &&
    "shape" in value &&
    "columns" in value &&
    "values" in value
  );
}

/** The first ten rows and how many there are. Rows of real children belong in no saved notebook. */
export function frameTable(frame: Frame): TableModel {
  const [rows = 0, columns = 0] = frame.shape;
  const shown = frame.head(Math.min(mostRows, rows)).values as unknown[][];
  return {
    kind: "table",
    title: `${rows} rows, ${columns} columns`,
    columns: frame.columns.map((label) => ({ label, format: "number" })),
    rows: shown.map((cells) => ({ cells: cells.map(cellOf) })),
    notes: rows > mostRows ? [`${rows - mostRows} more rows are not shown`] : [],
  };
}

function cellOf(value: unknown): TableCell {
  if (typeof value === "number") return Number.isNaN(value) ? null : value;
  return value === null || value === undefined ? null : String(value);
}
