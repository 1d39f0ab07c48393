import { mean, standardDeviation } from "simple-statistics";

/** The library names plain lists, and reads any list. */
const listed = (values: ArrayLike<number>) => values as number[];

/** Of a group's values: how many, their mean, and the standard deviation with n - 1; 0 where there are too few. */
interface Spread {
  readonly n: number;
  readonly mean: number;
  readonly deviation: number;
}

/** Difference of means over the root of the mean of both variances (Austin 2009, Stat Med 28:3083). */
export function standardised(examined: Spread, others: Spread): number | null {
  if (examined.n < 2 || others.n < 2) return null;
  const spread = Math.sqrt((examined.deviation ** 2 + others.deviation ** 2) / 2);
  return spread === 0 ? null : (examined.mean - others.mean) / spread;
}

export function spreadOf(values: ArrayLike<number>): Spread {
  const n = values.length;
  if (n === 0) return { n, mean: 0, deviation: 0 };
  return { n, mean: mean(listed(values)), deviation: n < 2 ? 0 : sampleDeviation(values) };
}

/** Of `count` ones among n values, the others being zero. */
export function spreadOfShare(count: number, n: number): Spread {
  if (n < 2) return { n, mean: 0, deviation: 0 };
  const share = count / n;
  return { n, mean: share, deviation: Math.sqrt((share * (1 - share) * n) / (n - 1)) };
}

/** With n - 1 in the denominator. */
export function sampleDeviation(values: ArrayLike<number>): number {
  // the library's standardDeviation divides by n
  return standardDeviation(listed(values)) * Math.sqrt(values.length / (values.length - 1));
}
