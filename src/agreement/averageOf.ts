/** Mean of a column, whatever kind of array it is. */
export function averageOf(values: ArrayLike<number>): number {
  let sum = 0;
  for (let row = 0; row < values.length; row++) sum += values[row];
  return sum / values.length;
}
