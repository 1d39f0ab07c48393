// Thin names over @stdlib's distributions: accurate to about 1e-10 for probabilities in
// [1e-6, 1 - 1e-6]; finish far tails with Newton steps on the distribution function.
//
// Each is loaded at its first use: together they are some 200 small files, a quarter of the time
// that importing this package would take.
import { createRequire } from "node:module";

const require = createRequire(import.meta.url);

const normalCdfLibrary = atFirstUse("normal-cdf");
const normalQuantileLibrary = atFirstUse("normal-quantile");
const tCdfLibrary = atFirstUse("t-cdf");
const tQuantileLibrary = atFirstUse("t-quantile");
const chiSquareCdfLibrary = atFirstUse("chisquare-cdf");
const chiSquareQuantileLibrary = atFirstUse("chisquare-quantile");
const fCdfLibrary = atFirstUse("f-cdf");
const fQuantileLibrary = atFirstUse("f-quantile");
const betaQuantileLibrary = atFirstUse("beta-quantile");
const binomialCdfLibrary = atFirstUse("binomial-cdf");

export const normalCdf = (z: number): number => normalCdfLibrary()(z, 0, 1);
export const normalQuantile = (p: number): number => normalQuantileLibrary()(p, 0, 1);
export const tCdf = (t: number, df: number): number => tCdfLibrary()(t, df);
export const tQuantile = (p: number, df: number): number => tQuantileLibrary()(p, df);
export const chiSquareCdf = (x: number, df: number): number => chiSquareCdfLibrary()(x, df);
export const chiSquareQuantile = (p: number, df: number): number =>
  chiSquareQuantileLibrary()(p, df);
export const fCdf = (f: number, df1: number, df2: number): number => fCdfLibrary()(f, df1, df2);
export const fQuantile = (p: number, df1: number, df2: number): number =>
  fQuantileLibrary()(p, df1, df2);
export const betaQuantile = (p: number, a: number, b: number): number =>
  betaQuantileLibrary()(p, a, b);
export const binomialCdf = (x: number, n: number, p: number): number =>
  binomialCdfLibrary()(x, n, p);

function atFirstUse(name: string): () => (...parameters: number[]) => number {
  let library: ((...parameters: number[]) => number) | undefined;
  return () => {
    library ??= require(`@stdlib/stats-base-dists-${name}`) as (...parameters: number[]) => number;
    return library;
  };
}
