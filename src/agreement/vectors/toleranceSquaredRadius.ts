import { randomGamma } from "d3-random";
import { quantileSorted } from "simple-statistics";
import { chiSquareCdf, createRandom, type Random } from "../../inference/index.js";
import { choleskyInverse } from "../regression/smallMatrix.js";

/** A squared radius by simulation, and how much it moves with the seed. */
export interface SimulatedRadius {
  readonly squaredRadius: number;
  /** Standard error of the simulation, from its own order statistics. */
  readonly monteCarloError: number;
}

/**
 * Squared radius c such that (v - mean)' S^-1 (v - mean) <= c holds the content of a multivariate
 * normal with the stated confidence (Krishnamoorthy and Mathew 2009, chapter 9): means and covariances
 * of n normal vectors are drawn, and in each the radius that holds exactly the content is found by
 * integrating along directions, so that the only chance is that of the draws.
 */
export function toleranceSquaredRadius(
  sample: {
    readonly n: number;
    readonly dimensions: number;
    readonly content: number;
    readonly confidence: number;
  },
  { replicates, seed }: { readonly replicates: number; readonly seed: number },
): SimulatedRadius {
  const { n, dimensions: p, content, confidence } = sample;
  const random = createRandom(seed);
  const radii = new Float64Array(replicates);
  const directions = directionsOf(p);
  const within = chiCdfTable(p);
  for (let replicate = 0; replicate < replicates; replicate++) {
    random.restart(seed, replicate);
    const mean = Array.from({ length: p }, () => random.normal() / Math.sqrt(n));
    const inverse = choleskyInverse(drawnCovariance(n, p, random));
    if (inverse === null) throw new RangeError("a simulated covariance is singular");
    radii[replicate] = radiusHolding(content, mean, inverse, directions, within);
  }
  const sorted = Array.from(radii.sort());
  const spread = Math.sqrt((confidence * (1 - confidence)) / replicates);
  const [below, above] = [confidence - spread, confidence + spread].map((share) =>
    quantileSorted(sorted, Math.min(1, Math.max(0, share))),
  );
  return {
    squaredRadius: quantileSorted(sorted, confidence),
    monteCarloError: (above - below) / 2,
  };
}

/** Squared radius about `mean` that holds the content of the standard normal, by bisection. */
function radiusHolding(
  content: number,
  mean: readonly number[],
  inverse: readonly (readonly number[])[],
  directions: readonly (readonly number[])[],
  within: (radius: number) => number,
): number {
  const times = (v: readonly number[]) =>
    inverse.map((row) => row.reduce((sum, cell, j) => sum + cell * v[j], 0));
  const dot = (a: readonly number[], b: readonly number[]) =>
    a.reduce((sum, value, j) => sum + value * b[j], 0);
  const shifted = times(mean);
  const offset = dot(mean, shifted);
  // Along r u the form is a r² - 2 b r + offset.
  const rays = directions.map((u) => [dot(u, times(u)), dot(u, shifted)] as const);
  const held = (squared: number) => {
    let sum = 0;
    for (const [a, b] of rays) {
      const root = b * b - a * (offset - squared);
      if (root <= 0) continue;
      const to = (b + Math.sqrt(root)) / a;
      if (to > 0) sum += within(to) - within(Math.max(0, (b - Math.sqrt(root)) / a));
    }
    return sum / rays.length;
  };
  let [low, high] = [0, 10];
  while (held(high) < content) {
    low = high;
    high *= 2;
  }
  while (high - low > 1e-6 * high) {
    const middle = (low + high) / 2;
    if (held(middle) < content) low = middle;
    else high = middle;
  }
  return (low + high) / 2;
}

/** Directions spread evenly: on the circle, on the sphere by the golden angle, or the two of a line. */
function directionsOf(p: number): number[][] {
  if (p === 1) return [[1], [-1]];
  if (p === 2) {
    const step = Math.PI / 32;
    return Array.from({ length: 64 }, (_, k) => [Math.cos(k * step), Math.sin(k * step)]);
  }
  const golden = Math.PI * (3 - Math.sqrt(5));
  return Array.from({ length: 300 }, (_, k) => {
    const z = 1 - (2 * k + 1) / 300;
    const flat = Math.sqrt(1 - z * z);
    return [flat * Math.cos(golden * k), flat * Math.sin(golden * k), z];
  });
}

/** Probability of a standard normal vector within a radius, by linear look-up (error below 1e-7). */
function chiCdfTable(p: number): (radius: number) => number {
  const step = 1 / 1024;
  const table = Float64Array.from({ length: 10 / step + 2 }, (_, k) =>
    chiSquareCdf((k * step) ** 2, p),
  );
  return (radius) => {
    const place = Math.min(radius, 10) / step;
    const below = Math.floor(place);
    return table[below] + (place - below) * (table[below + 1] - table[below]);
  };
}

/** Covariance of n standard normal vectors, by Bartlett's triangle. */
function drawnCovariance(n: number, p: number, random: Random): number[][] {
  const gamma = randomGamma.source(random.uniform);
  const triangle = Array.from({ length: p }, (_, i) =>
    Array.from({ length: p }, (_, j) =>
      j < i ? random.normal() : j === i ? Math.sqrt(2 * gamma((n - 1 - i) / 2)()) : 0,
    ),
  );
  return triangle.map((a) =>
    triangle.map((b) => a.reduce((sum, value, k) => sum + value * b[k], 0) / (n - 1)),
  );
}
