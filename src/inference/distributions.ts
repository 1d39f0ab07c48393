// Thin names over @stdlib's distributions: accurate to about 1e-10 of the value for probabilities in
// [1e-6, 1 - 1e-6]. Chi-square is finished by its own tails. A tail is a small probability in its own
// right, never 1 minus a large one; it is never 0 where the statistic is finite, because a printed
// p of 0 claims what no data can show: below 5e-324, the smallest number there is, it is that number.
//
// Each is loaded at its first use: together they are some 200 small files, a quarter of the time
// that importing this package would take.
import { distribution } from "../platform/index.js";
import { logChiSquareTails } from "./chiSquareTails.js";

const normalCdfLibrary = atFirstUse("normal-cdf");
const normalQuantileLibrary = atFirstUse("normal-quantile");
const tCdfLibrary = atFirstUse("t-cdf");
const tQuantileLibrary = atFirstUse("t-quantile");
const fCdfLibrary = atFirstUse("f-cdf");
const fQuantileLibrary = atFirstUse("f-quantile");
const betaQuantileLibrary = atFirstUse("beta-quantile");
const binomialCdfLibrary = atFirstUse("binomial-cdf");

export const normalCdf = (z: number): number => normalCdfLibrary()(z, 0, 1);
export const normalQuantile = (p: number): number => normalQuantileLibrary()(p, 0, 1);
export const tCdf = (t: number, df: number): number => tCdfLibrary()(t, df);
export const tQuantile = (p: number, df: number): number => tQuantileLibrary()(p, df);
export const chiSquareCdf = (x: number, df: number): number =>
  Math.exp(logChiSquareTails(x, df).lower);
/** Probability above x. */
export const chiSquareTail = (x: number, df: number): number =>
  neverZero(Math.exp(logChiSquareTails(x, df).upper), x);
/** Probability above f. */
export const fTail = (f: number, df1: number, df2: number): number =>
  neverZero(f > 0 ? fCdfLibrary()(1 / f, df2, df1) : 1, f);
export const fQuantile = (p: number, df1: number, df2: number): number =>
  fQuantileLibrary()(p, df1, df2);
export const betaQuantile = (p: number, a: number, b: number): number =>
  betaQuantileLibrary()(p, a, b);
/** The smallest whole number up to which the binomial distribution holds at least p. */
export function binomialQuantile(p: number, n: number, share: number): number {
  let [low, high] = [0, n];
  while (low < high) {
    const middle = (low + high) >> 1;
    // A hair, so that a probability that is p but for rounding counts as reached.
    if (binomialCdf(middle, n, share) >= p * (1 - 1e-12)) high = middle;
    else low = middle + 1;
  }
  return low;
}
export const binomialCdf = (x: number, n: number, p: number): number =>
  binomialCdfLibrary()(x, n, p);

/** Where the distribution function is p: Wilson and Hilferty's start, Newton's steps on the tails. */
export function chiSquareQuantile(p: number, df: number): number {
  if (!(p >= 0 && p <= 1 && df > 0)) return Number.NaN;
  if (p === 0) return 0;
  if (p === 1) return Number.POSITIVE_INFINITY;
  const spread = 2 / (9 * df);
  const start = df * (1 - spread + normalQuantile(p) * Math.sqrt(spread)) ** 3;
  // Below about 1 degree of freedom the start can fall below 0: there the density is a power of x.
  let logX = Math.log(Math.max(start, df * 1e-3, 1e-300));
  const [side, target] =
    p < 0.5 ? (["lower", Math.log(p)] as const) : (["upper", Math.log1p(-p)] as const);
  for (let step = 0; step < 200; step++) {
    const x = Math.exp(logX);
    const tails = logChiSquareTails(x, df);
    // Change of the logarithm of the tail with that of x.
    const slope = Math.exp(tails.density - tails[side]) * (side === "lower" ? 1 : -1);
    const move = Math.max(-100, Math.min(2, (target - tails[side]) / slope));
    logX += move;
    if (Math.abs(move) < 1e-15) break;
  }
  return Math.exp(logX);
}

/** Two-sided p of a standard normal statistic. */
export const twoSidedP = (z: number): number => chiSquareTail(z * z, 1);

/** Two-sided p of Student's t. */
export const twoSidedT = (t: number, df: number): number =>
  neverZero(Math.min(1, 2 * tCdf(-Math.abs(t), df)), t);

const neverZero = (p: number, statistic: number): number =>
  p === 0 && Number.isFinite(statistic) ? Number.MIN_VALUE : p;

function atFirstUse(name: string): () => (...parameters: number[]) => number {
  let library: ((...parameters: number[]) => number) | undefined;
  return () => {
    library ??= distribution(name);
    return library;
  };
}
