import { randomGamma } from "d3-random";
import { quantileSorted } from "simple-statistics";
import { createRandom, type Random } from "../../inference/index.js";
import { choleskyInverse } from "../regression/smallMatrix.js";

/**
 * Squared radius c such that (v - mean)' S^-1 (v - mean) <= c holds the content of a multivariate
 * normal with the stated confidence (Krishnamoorthy and Mathew 2009, chapter 9, by simulation):
 * means and covariances of n normal vectors are drawn, and the content quantile of further vectors
 * taken in each.
 */
export function toleranceSquaredRadius(
  sample: {
    readonly n: number;
    readonly dimensions: number;
    readonly content: number;
    readonly confidence: number;
  },
  { replicates, seed }: { readonly replicates: number; readonly seed: number },
): number {
  const { n, dimensions: p, content, confidence } = sample;
  const random = createRandom(seed);
  const radii = new Float64Array(replicates);
  const draws = 2000;
  for (let replicate = 0; replicate < replicates; replicate++) {
    random.restart(seed, replicate);
    const mean = Array.from({ length: p }, () => random.normal() / Math.sqrt(n));
    const inverse = choleskyInverse(drawnCovariance(n, p, random));
    if (inverse === null) throw new RangeError("a simulated covariance is singular");
    const distances = new Float64Array(draws);
    const v = new Float64Array(p);
    for (let k = 0; k < draws; k++) {
      for (let i = 0; i < p; i++) v[i] = random.normal() - mean[i];
      let distance = 0;
      for (let i = 0; i < p; i++) {
        for (let j = 0; j < p; j++) distance += v[i] * inverse[i][j] * v[j];
      }
      distances[k] = distance;
    }
    radii[replicate] = quantileSorted(Array.from(distances.sort()), content);
  }
  return quantileSorted(Array.from(radii.sort()), confidence);
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
