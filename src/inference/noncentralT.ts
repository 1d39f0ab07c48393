import { InputError } from "../results/index.js";
import { normalCdf, normalQuantile, tQuantile } from "./distributions.js";

/**
 * Distribution function of the noncentral t: P(T <= t) where T = (Z + noncentrality) / sqrt(V / df),
 * Z standard normal, V chi-square with df degrees of freedom.
 *
 * Integrated over the logarithm of sqrt(V / df) by the trapezoid rule, which converges
 * exponentially there (Trefethen and Weideman 2014); the density's constant is the sum of the same
 * rule. Absolute error below 1e-13 for df from 1 to 10^7.
 *
 * @param df positive, not necessarily whole
 * @throws when df is not positive or an argument is not finite
 */
export function noncentralTCdf(t: number, df: number, noncentrality: number): number {
  return below(t, requireArguments("noncentralTCdf", t, df, noncentrality), noncentrality);
}

/**
 * Quantile of the noncentral t: the t below which the share p lies. Relative error below 1e-10 for
 * p between 1e-6 and 1 - 1e-6 where the quantile is not itself near 0.
 *
 * @throws when p is not strictly between 0 and 1, or as `noncentralTCdf`
 */
export function noncentralTQuantile(p: number, df: number, noncentrality: number): number {
  if (!(p > 0 && p < 1)) {
    throw new InputError(`noncentralTQuantile requires p between 0 and 1, got ${p}`);
  }
  const nodes = requireArguments("noncentralTQuantile", 0, df, noncentrality);
  // The smaller tail is compared, so that neither end loses its digits.
  const excess = (t: number) =>
    p < 0.5 ? below(t, nodes, noncentrality) - p : 1 - p - below(-t, nodes, -noncentrality);
  let [low, high] = bracket(excess, startingPoint(p, df, noncentrality), df);
  let t = low / 2 + high / 2;
  for (let step = 0; step < 200; step++) {
    const error = excess(t);
    if (error === 0) return t;
    if (error < 0) low = t;
    else high = t;
    const newton = t - error / density(t, nodes, noncentrality);
    const next = newton > low && newton < high ? newton : low / 2 + high / 2;
    if (Math.abs(next - t) <= 4e-15 * Math.abs(t)) return next;
    t = next;
  }
  return t;
}

/** Nodes of sqrt(V / df) with weights that add to 1. */
interface Nodes {
  readonly scale: Float64Array;
  readonly weight: Float64Array;
}

function requireArguments(caller: string, t: number, df: number, noncentrality: number): Nodes {
  if (!(df > 0 && df < Number.POSITIVE_INFINITY)) {
    throw new InputError(`${caller} requires positive degrees of freedom, got ${df}`);
  }
  if (!Number.isFinite(t) || !Number.isFinite(noncentrality)) {
    throw new InputError(`${caller} requires finite arguments, got ${t}, ${noncentrality}`);
  }
  // The width of the density, or of the normal factor seen over log scale when that is narrower.
  const width = 1 / Math.sqrt(2 * df + 1);
  const step = Math.min(width / 4, 0.7 / (4 + Math.abs(noncentrality)), 0.04);
  const scale: number[] = [];
  const weight: number[] = [];
  const add = (x: number) => {
    const exponent = df * (x - Math.expm1(2 * x) / 2);
    if (exponent < -46) return false;
    scale.push(Math.exp(x));
    weight.push(Math.exp(exponent));
    return true;
  };
  for (let k = 0; add(k * step); k++);
  for (let k = 1; add(-k * step); k++);
  const total = weight.reduce((sum, value) => sum + value, 0);
  return {
    scale: Float64Array.from(scale),
    weight: Float64Array.from(weight, (value) => value / total),
  };
}

/** P(T <= t); P(T > t) is that of -t and -noncentrality. */
function below(t: number, nodes: Nodes, noncentrality: number): number {
  let sum = 0;
  for (let k = 0; k < nodes.scale.length; k++) {
    sum += nodes.weight[k] * normalCdf(t * nodes.scale[k] - noncentrality);
  }
  return sum;
}

function density(t: number, nodes: Nodes, noncentrality: number): number {
  let sum = 0;
  for (let k = 0; k < nodes.scale.length; k++) {
    const z = t * nodes.scale[k] - noncentrality;
    sum += nodes.weight[k] * nodes.scale[k] * Math.exp(-0.5 * z * z);
  }
  return sum / Math.sqrt(2 * Math.PI);
}

/** Normal approximation for many degrees of freedom, a shifted central t for few. */
function startingPoint(p: number, df: number, noncentrality: number): number {
  if (df < 3) return tQuantile(p, df) + noncentrality;
  const spread = Math.sqrt(1 + (noncentrality * noncentrality) / (2 * df));
  return noncentrality + normalQuantile(p) * spread;
}

function bracket(excess: (t: number) => number, start: number, df: number): [number, number] {
  let reach = 1 + Math.abs(start) / Math.sqrt(2 * df);
  let low = start - reach;
  let high = start + reach;
  for (let step = 0; excess(low) > 0 && step < 200; step++) {
    reach *= 2;
    high = low;
    low -= reach;
  }
  for (let step = 0; excess(high) < 0 && step < 200; step++) {
    reach *= 2;
    low = high;
    high += reach;
  }
  return [low, high];
}
