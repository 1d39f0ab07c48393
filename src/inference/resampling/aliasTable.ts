/** A discrete distribution prepared for drawing in constant time (Walker 1977; Vose 1991). */
export interface AliasTable {
  readonly size: number;
  /** Below this fraction of its slot a draw stays; above it goes to the slot's alias. */
  readonly stay: Float64Array;
  readonly alias: Int32Array;
}

/** Prepares probabilities (or weights of any sum above 0). */
export function aliasTable(weights: ArrayLike<number>): AliasTable {
  const size = weights.length;
  let total = 0;
  for (let at = 0; at < size; at++) total += weights[at];
  const stay = new Float64Array(size);
  const alias = new Int32Array(size);
  const small: number[] = [];
  const large: number[] = [];
  for (let at = 0; at < size; at++) {
    stay[at] = (weights[at] / total) * size;
    alias[at] = at;
    (stay[at] < 1 ? small : large).push(at);
  }
  while (small.length > 0 && large.length > 0) {
    const low = small.pop()!;
    const high = large[large.length - 1];
    alias[low] = high;
    stay[high] -= 1 - stay[low];
    if (stay[high] < 1) small.push(large.pop()!);
  }
  // what is left differs from 1 by rounding only
  for (const at of small) stay[at] = 1;
  for (const at of large) stay[at] = 1;
  return { size, stay, alias };
}

/** One draw from a uniform number in [0, 1). */
export function drawAlias({ size, stay, alias }: AliasTable, uniform: number): number {
  const scaled = uniform * size;
  const slot = Math.floor(scaled);
  return scaled - slot < stay[slot] ? slot : alias[slot];
}
