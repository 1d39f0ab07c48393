import type { Random } from "../random.js";
import { poissonDraw } from "./poissonDraw.js";

/**
 * Poisson counts for cells of any means, a look-up each: fills the first `length` places of `out`
 * with counts of the cells from `from` on, and returns their sum. Cells of one mean share a table,
 * and all tables lie one after the other.
 */
export function poissonCounts(
  means: readonly number[],
): (random: Random, from: number, length: number, out: Int32Array) => number {
  const distinct = [...new Set(means)];
  const numbers = new Map(distinct.map((mean, number) => [mean, number]));
  const tableOf = Int32Array.from(means, (mean) => numbers.get(mean)!);
  const draws = distinct.map(poissonDraw);
  const sizes = Float64Array.from(draws, ({ table }) => table.size);
  const starts = new Int32Array(draws.length + 1);
  draws.forEach(({ table }, number) => {
    starts[number + 1] = starts[number] + table.size;
  });
  const stay = new Float64Array(starts[draws.length]);
  // the count of each slot and then that of its alias: chosen without a branch
  const counts = new Int32Array(2 * stay.length);
  draws.forEach(({ table, from }, number) => {
    stay.set(table.stay, starts[number]);
    for (let slot = 0; slot < table.size; slot++) {
      counts[2 * (starts[number] + slot)] = from + slot;
      counts[2 * (starts[number] + slot) + 1] = from + table.alias[slot];
    }
  });
  return (random, from, length, out) => {
    let drawn = 0;
    for (let at = 0; at < length; at++) {
      const table = tableOf[from + at];
      const scaled = random.uniform() * sizes[table];
      const slot = scaled | 0;
      const place = starts[table] + slot;
      const count = counts[2 * place + Number(scaled - slot >= stay[place])];
      out[at] = count;
      drawn += count;
    }
    return drawn;
  };
}
