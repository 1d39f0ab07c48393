/** The sum of a column, in its order; loops that run for each resample call it, so it is bare. */
export function sum(list: ArrayLike<number>): number {
  let total = 0;
  for (let at = 0; at < list.length; at++) total += list[at];
  return total;
}

/** Its mean. */
export const averageOf = (list: ArrayLike<number>): number => sum(list) / list.length;
