import type { Coded, Findings, FreeFlag, OwnColumn, RawText, Readings } from "../types.js";

/** The given rows of readings or of findings, in the given order; the problems stay as they are. */
export function takeRows<Data extends Readings | Findings>(data: Data, rows: Int32Array): Data {
  const taken = Object.entries(data).map(([key, value]) => [key, take(value, rows)]);
  return { ...Object.fromEntries(taken), n: rows.length, problems: data.problems } as Data;
}

type Column = Float64Array | Int32Array | Uint8Array;

function take(value: unknown, rows: Int32Array): unknown {
  if (isColumn(value)) return takeColumn(value, rows);
  if (isCoded(value)) return { codes: takeColumn(value.codes, rows), labels: value.labels };
  if (isLabelled(value)) {
    return value.map((entry) => ({ ...entry, values: take(entry.values, rows) }));
  }
  if (isRawText(value)) {
    const text = (list: readonly string[]) => Array.from(rows, (row) => list[row]);
    return { sphere: text(value.sphere), cylinder: text(value.cylinder), axis: text(value.axis) };
  }
  return value;
}

function takeColumn(column: Column, rows: Int32Array): Column {
  const taken = new (column.constructor as new (length: number) => Column)(rows.length);
  for (let index = 0; index < rows.length; index++) taken[index] = column[rows[index]];
  return taken;
}

function isColumn(value: unknown): value is Column {
  return (
    value instanceof Float64Array || value instanceof Int32Array || value instanceof Uint8Array
  );
}

function isCoded(value: unknown): value is Coded {
  return typeof value === "object" && value !== null && "codes" in value && "labels" in value;
}

function isLabelled(value: unknown): value is readonly (FreeFlag | OwnColumn)[] {
  return (
    Array.isArray(value) &&
    value.every((entry) => isCoded(entry?.values) || isColumn(entry?.values))
  );
}

function isRawText(value: unknown): value is RawText {
  return typeof value === "object" && value !== null && "sphere" in value;
}
