import { chiSquareTail } from "../../inference/index.js";

export interface NormalityTest {
  readonly kind: "normality-test";
  readonly statistic: number;
  readonly p: number;
  readonly method: "dagostino-pearson";
}

/**
 * Omnibus test of D'Agostino and Pearson 1973 from skewness and excess kurtosis (moments with
 * divisor n), for independent values; undefined below 20 of them. With many rows small departures
 * are significant and with few large ones are not: look at the figure.
 */
export function normalityTest(
  n: number,
  skewness: number,
  excessKurtosis: number,
): NormalityTest | undefined {
  if (n < 20) return undefined;
  const statistic = skewnessZ(n, skewness) ** 2 + kurtosisZ(n, excessKurtosis + 3) ** 2;
  return {
    kind: "normality-test",
    statistic,
    p: chiSquareTail(statistic, 2),
    method: "dagostino-pearson",
  };
}

/** D'Agostino 1970. */
function skewnessZ(n: number, skewness: number): number {
  const y = skewness * Math.sqrt(((n + 1) * (n + 3)) / (6 * (n - 2)));
  const kurtosis =
    (3 * (n * n + 27 * n - 70) * (n + 1) * (n + 3)) / ((n - 2) * (n + 5) * (n + 7) * (n + 9));
  const w2 = Math.sqrt(2 * (kurtosis - 1)) - 1;
  return Math.asinh(y / Math.sqrt(2 / (w2 - 1))) / Math.sqrt(Math.log(w2) / 2);
}

/** Anscombe and Glynn 1983. */
function kurtosisZ(n: number, kurtosis: number): number {
  const mean = (3 * (n - 1)) / (n + 1);
  const variance = (24 * n * (n - 2) * (n - 3)) / ((n + 1) ** 2 * (n + 3) * (n + 5));
  const x = (kurtosis - mean) / Math.sqrt(variance);
  const beta =
    ((6 * (n * n - 5 * n + 2)) / ((n + 7) * (n + 9))) *
    Math.sqrt((6 * (n + 3) * (n + 5)) / (n * (n - 2) * (n - 3)));
  const a = 6 + (8 / beta) * (2 / beta + Math.sqrt(1 + 4 / (beta * beta)));
  const term = 1 + x * Math.sqrt(2 / (a - 4));
  const root = Math.sign(term) * Math.cbrt((1 - 2 / a) / Math.abs(term));
  return (1 - 2 / (9 * a) - root) / Math.sqrt(2 / (9 * a));
}
