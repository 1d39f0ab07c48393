import { mean, standardDeviation } from "simple-statistics";

/** Difference of means over the root of the mean of both variances (Austin 2009, Stat Med 28:3083). */
export function standardised(
  examined: readonly number[],
  others: readonly number[],
): number | null {
  if (examined.length < 2 || others.length < 2) return null;
  const spread = Math.sqrt((sampleDeviation(examined) ** 2 + sampleDeviation(others) ** 2) / 2);
  return spread === 0 ? null : (mean([...examined]) - mean([...others])) / spread;
}

/** With n - 1 in the denominator. */
export function sampleDeviation(values: readonly number[]): number {
  // the library's standardDeviation divides by n
  return standardDeviation([...values]) * Math.sqrt(values.length / (values.length - 1));
}
