import { type Prescription, parsePrescription } from "../../refraction/index.js";
import type { CellContext } from "./readCells.js";

/**
 * Sphere, cylinder and axis from one text cell in clinic notation. Text that is no prescription, or
 * could be several, is listed and set aside.
 */
export function readPrescriptions(
  { table, log, rows, missing }: CellContext,
  column: number,
  marks: ReadonlyMap<string, unknown>,
  { sphere, cylinder, axis }: Record<"sphere" | "cylinder" | "axis", Float64Array>,
): void {
  const { codes, labels } = table.coded(column);
  const parsed = new Map<number, Prescription | "nothing" | "unclear">();
  for (const values of [sphere, cylinder, axis]) values.fill(Number.NaN);
  for (let k = 0; k < rows.length; k++) {
    const row = rows[k];
    const found = parsed.get(codes[row]) ?? parse(labels[codes[row]]);
    parsed.set(codes[row], found);
    if (found === "unclear") {
      const text = labels[codes[row]];
      log.add(table.line(row), table.header[column], text, "prescription-unclear", "set-aside");
    } else if (found !== "nothing") {
      sphere[k] = found.sphere;
      cylinder[k] = found.cylinder;
      axis[k] = found.axis ?? Number.NaN;
    }
  }
  function parse(text: string): Prescription | "nothing" | "unclear" {
    if (text === "" || missing.has(text) || marks.has(text)) return "nothing";
    try {
      return parsePrescription(text);
    } catch {
      return "unclear";
    }
  }
}
