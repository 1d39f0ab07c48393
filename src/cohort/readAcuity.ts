import { type CellContext, readNumbers } from "./readCells.js";

/** The test distance that a Snellen denominator goes with: 20 feet, 6 metres. */
const distance = { "snellen-feet": 20, "snellen-metres": 6 } as const;

/** Visual acuity in logMAR: the logarithm of the minimum angle of resolution in minutes of arc. */
export function readAcuity(
  context: CellContext,
  column: number,
  notation: "logMAR" | "snellen-feet" | "snellen-metres" | "decimal",
): Float64Array {
  if (notation === "logMAR") {
    return readNumbers(context, column, { low: -0.5, high: 3, rule: "acuity-unknown" });
  }
  const values = readNumbers(context, column, { low: 0.01, high: 2000, rule: "acuity-unknown" });
  return values.map((value) =>
    notation === "decimal" ? -Math.log10(value) : Math.log10(value / distance[notation]),
  );
}
