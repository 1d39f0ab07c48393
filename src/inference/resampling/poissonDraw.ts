import { type AliasTable, aliasTable } from "./aliasTable.js";

/** A Poisson distribution prepared for drawing: a look-up gives the count less `from`. */
interface PoissonDraw {
  readonly table: AliasTable;
  /** The count of the table's first slot. */
  readonly from: number;
}

/** Poisson probabilities around the mode, as far as they reach 1e-18 of it. */
export function poissonDraw(mean: number): PoissonDraw {
  const { weights, from } = weightsAround(mean);
  return { table: aliasTable(weights), from };
}

/** Probabilities from 0 on, up to a factor, of a small mean. */
export function poissonWeights(mean: number): number[] {
  const { weights, from } = weightsAround(mean);
  return from === 0 ? weights : [...new Array<number>(from).fill(0), ...weights];
}

function weightsAround(mean: number): { readonly weights: number[]; readonly from: number } {
  const mode = Math.floor(mean);
  const below: number[] = [];
  for (let k = mode, p = 1; k > 0; k--) {
    p *= k / mean;
    if (p < 1e-18) break;
    below.push(p);
  }
  const weights = below.reverse();
  const from = mode - weights.length;
  weights.push(1);
  for (let k = mode + 1, p = mean / k; p >= 1e-18; k++, p *= mean / k) weights.push(p);
  return { weights, from };
}
