import { InputError } from "../results/index.js";
import type { Frame, FrameCell } from "./frame.js";

/**
 * The rows of a frame as plain objects, one member a column, as `readReadings` and `readFindings`
 * take them. What is missing (NaN, null or undefined, which danfojs keeps apart) is null.
 *
 * @throws on two columns of one name, or on a cell that is no text, number or yes/no
 *
 * @example
 * fromFrame({ columns: ["M"], values: [[-1.25], [NaN]] }) // => [{ M: -1.25 }, { M: null }]
 */
export function fromFrame(frame: Frame): Record<string, FrameCell>[] {
  const { columns } = frame;
  const twice = columns.find((name, index) => columns.indexOf(name) !== index);
  if (twice !== undefined) {
    throw new InputError(`fromFrame requires columns of different names, got "${twice}" twice`);
  }
  // a frame without rows has no values at all
  return (frame.values as unknown[][]).map((row) =>
    Object.fromEntries(columns.map((name, index) => [name, cellOf(row[index], name)])),
  );
}

function cellOf(value: unknown, column: string): FrameCell {
  if (value === null || value === undefined || Number.isNaN(value)) return null;
  if (typeof value === "string" || typeof value === "number" || typeof value === "boolean") {
    return value;
  }
  throw new InputError(
    `fromFrame requires texts, numbers or yes/no in each cell, got ${typeof value} in "${column}"`,
  );
}
