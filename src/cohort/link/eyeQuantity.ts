import { toPowerVectors } from "../../refraction/index.js";
import { InputError } from "../../results/index.js";
import { withoutNoise } from "../../rows/index.js";
import type { Cohort } from "../types.js";

/** M is the spherical equivalent; J0 and J45 are the astigmatic components, in dioptres. */
export type Quantity = "M" | "J0" | "J45";
export type EquivalentSource = "computed" | "stated";

/** The quantity of every reading and of every finding, NaN where it cannot be had. */
export function quantityColumns(
  { readings, findings }: Cohort,
  quantity: Quantity,
  source: EquivalentSource,
): { test: Float64Array; reference: Float64Array } {
  const test = toPowerVectors(readings)[quantity].map(withoutNoise);
  if (source === "computed") {
    return { test, reference: toPowerVectors(findings)[quantity].map(withoutNoise) };
  }
  if (quantity !== "M" || findings.statedEquivalent === null) {
    throw new InputError(
      `a stated equivalent requires the quantity M and findings that state one, got ${quantity}`,
    );
  }
  return { test, reference: findings.statedEquivalent };
}
