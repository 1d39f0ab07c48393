import { InputError } from "../results/index.js";
import type { Cohort, Findings, Readings } from "./types.js";

/** M is the spherical equivalent; J0 and J45 are the astigmatic components, in dioptres. */
export type Quantity = "M" | "J0" | "J45";
export type EquivalentSource = "computed" | "stated";

/** The quantity of one row, NaN where it cannot be had. */
export function quantityOf(data: Readings | Findings, row: number, quantity: Quantity): number {
  const { sphere, cylinder, axis } = data;
  if (quantity === "M") return sphere[row] + cylinder[row] / 2;
  // without a cylinder the axis does not matter
  if (cylinder[row] === 0) return 0;
  const angle = (2 * axis[row] * Math.PI) / 180;
  // power vectors: Thibos, Wheeler, Horner 1997
  return (-cylinder[row] / 2) * (quantity === "J0" ? Math.cos(angle) : Math.sin(angle));
}

/** The same for the finding of a cohort, with the equivalent computed or as stated by the file. */
export function referenceOf(
  { findings }: Cohort,
  row: number,
  quantity: Quantity,
  source: EquivalentSource,
): number {
  if (source === "computed") return quantityOf(findings, row, quantity);
  if (quantity !== "M" || findings.statedEquivalent === null) {
    throw new InputError(
      `a stated equivalent requires the quantity M and findings that state one, got ${quantity}`,
    );
  }
  return findings.statedEquivalent[row];
}
