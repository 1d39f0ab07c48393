// Thin names over @stdlib's distributions: accurate to about 1e-10 for probabilities in
// [1e-6, 1 - 1e-6]; finish far tails with Newton steps on the distribution function.
import betaCdfLibrary from "@stdlib/stats-base-dists-beta-cdf";
import betaQuantileLibrary from "@stdlib/stats-base-dists-beta-quantile";
import binomialCdfLibrary from "@stdlib/stats-base-dists-binomial-cdf";
import chiSquareCdfLibrary from "@stdlib/stats-base-dists-chisquare-cdf";
import chiSquareQuantileLibrary from "@stdlib/stats-base-dists-chisquare-quantile";
import fCdfLibrary from "@stdlib/stats-base-dists-f-cdf";
import fQuantileLibrary from "@stdlib/stats-base-dists-f-quantile";
import normalCdfLibrary from "@stdlib/stats-base-dists-normal-cdf";
import normalQuantileLibrary from "@stdlib/stats-base-dists-normal-quantile";
import tCdfLibrary from "@stdlib/stats-base-dists-t-cdf";
import tQuantileLibrary from "@stdlib/stats-base-dists-t-quantile";

export const normalCdf = (z: number): number => normalCdfLibrary(z, 0, 1);
export const normalQuantile = (p: number): number => normalQuantileLibrary(p, 0, 1);
export const tCdf = (t: number, df: number): number => tCdfLibrary(t, df);
export const tQuantile = (p: number, df: number): number => tQuantileLibrary(p, df);
export const chiSquareCdf = (x: number, df: number): number => chiSquareCdfLibrary(x, df);
export const chiSquareQuantile = (p: number, df: number): number => chiSquareQuantileLibrary(p, df);
export const fCdf = (f: number, df1: number, df2: number): number => fCdfLibrary(f, df1, df2);
export const fQuantile = (p: number, df1: number, df2: number): number =>
  fQuantileLibrary(p, df1, df2);
export const betaCdf = (x: number, a: number, b: number): number => betaCdfLibrary(x, a, b);
export const betaQuantile = (p: number, a: number, b: number): number =>
  betaQuantileLibrary(p, a, b);
export const binomialCdf = (x: number, n: number, p: number): number => binomialCdfLibrary(x, n, p);
