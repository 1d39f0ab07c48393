import { InputError } from "../results/index.js";
import type { Frame, FrameCell } from "./frame.js";

/**
 * The rows of a frame as plain objects, one member a column, as `readReadings` and `readFindings`
 * take them. What is missing (NaN, null or undefined, which danfojs keeps apart) is null.
 *
 * @param frame a data frame, or its columns and values
 * @throws on two columns of one name, or on a cell that is no text, number or yes/no
 *
 * @example
 * fromFrame({ columns: ["M"], values: [[-1.25], [NaN]] }) // => [{ M: -1.25 }, { M: null }]
 */
export function fromFrame(frame: Pick<Frame, "columns" | "values">): Record<string, FrameCell>[] {
  const { columns } = frame;
  const twice = columns.find((name, index) => columns.indexOf(name) !== index);
  if (twice !== undefined) {
    throw new InputError(`fromFrame requires columns of different names, got "${twice}" twice`);
  }
  const odd = frame.values.findIndex((row) => !Array.isArray(row));
  if (odd >= 0) {
    throw new InputError(
      `fromFrame requires a list of cells for each row, got ${frame.values[odd]} in row ${odd}`,
    );
  }
  // a frame without rows has no values at all
  return (frame.values as unknown[][]).map((row) =>
    Object.fromEntries(columns.map((name, index) => [name, cellOf(row[index], name)])),
  );
}

function cellOf(value: unknown, column: string): FrameCell {
  if (value === null || value === undefined || Number.isNaN(value)) return null;
  if (typeof value === "string" || typeof value === "boolean" || Number.isFinite(value)) {
    return value as FrameCell;
  }
  throw new InputError(
    `fromFrame requires texts, finite numbers or yes/no in each cell, got ${typeof value === "number" ? value : typeof value} in "${column}"`,
  );
}
