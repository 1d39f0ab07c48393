import type { Random } from "../random.js";

/**
 * Prepares Poisson counts for cells of any means above 0: each call fills `out` with a count a cell
 * and returns their sum. The inverse of the distribution function is looked up from a guide near it
 * (Chen and Asau 1974); cells of one mean share a table, and all tables lie one after the other.
 */
export function poissonCounts(
  means: readonly number[],
): (random: Random, out: Int32Array) => number {
  const distinct = [...new Set(means)];
  const numbers = new Map(distinct.map((mean, number) => [mean, number]));
  const tableOf = Int32Array.from(means, (mean) => numbers.get(mean)!);
  const tables = distinct.map(poissonTable);
  const sizes = Float64Array.from(tables, ({ below }) => below.length);
  const starts = new Int32Array(tables.length + 1);
  tables.forEach(({ below }, number) => {
    starts[number + 1] = starts[number] + below.length;
  });
  const below = Float64Array.from(tables.flatMap((table) => table.below));
  const guide = Int32Array.from(
    tables.flatMap((table, number) => guideOf(table.below).map((at) => starts[number] + at)),
  );
  // what is taken from a place in `below` to get the count
  const shifts = Int32Array.from(tables, ({ from }, number) => starts[number] - from);
  return (random, out) => {
    let sum = 0;
    for (let cell = 0; cell < tableOf.length; cell++) {
      const table = tableOf[cell];
      const uniform = random.uniform();
      let at = guide[starts[table] + Math.floor(uniform * sizes[table])];
      while (below[at] <= uniform) at++;
      out[cell] = at - shifts[table];
      sum += out[cell];
    }
    return sum;
  };
}

/** Probabilities of at most `from`, `from` + 1, ... as far as a count reaches 1e-18 of the mode's. */
function poissonTable(mean: number): { readonly from: number; readonly below: number[] } {
  const mode = Math.floor(mean);
  const weights = [1];
  for (let k = mode, p = k / mean; k > 0 && p >= 1e-18; k--, p *= k / mean) weights.unshift(p);
  const from = mode + 1 - weights.length;
  for (let k = mode + 1, p = mean / k; p >= 1e-18; k++, p *= mean / k) weights.push(p);
  const total = weights.reduce((sum, p) => sum + p, 0);
  let sum = 0;
  const below = weights.map((p) => {
    sum += p;
    return sum / total;
  });
  // what rounding leaves of it
  below[below.length - 1] = 1;
  return { from, below };
}

/** For each of as many equal parts of [0, 1) the first place that a number in it can have. */
function guideOf(below: readonly number[]): number[] {
  let at = 0;
  return below.map((_, part) => {
    while (below[at] <= part / below.length) at++;
    return at;
  });
}
