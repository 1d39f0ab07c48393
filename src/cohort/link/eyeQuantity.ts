import { equivalentOf, toPowerVectors } from "../../refraction/index.js";
import { InputError } from "../../results/index.js";
import { withoutNoise } from "../../rows/index.js";
import type { Cohort, EquivalentSource, Findings, Readings } from "../types.js";

/** M is the spherical equivalent; J0 and J45 are the astigmatic components, in dioptres. */
export type Quantity = "M" | "J0" | "J45";

/**
 * The quantity of every reading and of every finding, NaN where it cannot be had. Where M comes from is
 * what the cohort was linked with, unless the call says it.
 *
 * @throws InputError for a stated equivalent that is asked for of J0 or J45, or of a file without one
 */
export function quantityColumns(
  { readings, findings, choices }: Cohort,
  quantity: Quantity,
  source?: EquivalentSource,
): { test: Float64Array; reference: Float64Array } {
  const isM = quantity === "M";
  const linked = { reading: choices?.readingEquivalent, reference: choices?.referenceEquivalent };
  return {
    // only M can be stated: the others are always of sphere, cylinder and axis
    test: quantityOf(readings, quantity, (isM ? linked.reading : undefined) ?? "computed"),
    reference: quantityOf(
      findings,
      quantity,
      source ?? (isM ? linked.reference : undefined) ?? "computed",
    ),
  };
}

/** One quantity of every row of readings or of findings. */
export function quantityOf(
  data: Readings | Findings,
  quantity: Quantity,
  source: EquivalentSource,
): Float64Array {
  if (source === "computed") {
    if (quantity === "M") {
      const M = equivalentAt(data, source);
      const column = new Float64Array(data.n);
      for (let row = 0; row < column.length; row++) column[row] = M(row);
      return column;
    }
    const column = toPowerVectors(data)[quantity];
    for (let row = 0; row < column.length; row++) column[row] = withoutNoise(column[row]);
    return column;
  }
  if (quantity !== "M") throw withoutStated(data, quantity);
  return statedEquivalentOf(data);
}

/** M of a row, NaN where it cannot be had. */
export function equivalentAt(
  data: Readings | Findings,
  source: EquivalentSource,
): (row: number) => number {
  if (source === "stated") {
    const stated = statedEquivalentOf(data);
    return (row) => stated[row];
  }
  const { sphere, cylinder } = data;
  return (row) => withoutNoise(equivalentOf(sphere[row], cylinder[row]));
}

function statedEquivalentOf(data: Readings | Findings): Float64Array {
  if (data.statedEquivalent == null) throw withoutStated(data, "M");
  return data.statedEquivalent;
}

const withoutStated = ({ kind }: Readings | Findings, quantity: Quantity) =>
  new InputError(
    `a stated equivalent requires the quantity M and ${kind} that state one, got ${quantity}`,
  );

/**
 * Where M comes from unless a call says so: sphere and cylinder, or what is stated where no row has
 * both and some row states M.
 */
export function usualEquivalent(data: Readings | Findings): EquivalentSource {
  const { n, sphere, cylinder, statedEquivalent } = data;
  if (statedEquivalent == null) return "computed";
  for (let row = 0; row < n; row++) {
    if (!Number.isNaN(sphere[row] + cylinder[row])) return "computed";
  }
  return statedEquivalent.some((value) => !Number.isNaN(value)) ? "stated" : "computed";
}
