import { normalCdf } from "../../inference/index.js";

export interface BinormalParameters {
  readonly a: number;
  readonly b: number;
  /** Ascending. */
  readonly boundaries: readonly number[];
}

interface BinormalLikelihood {
  /** Without the constant; -Infinity outside the parameters' range. */
  readonly logLikelihood: number;
  readonly score: readonly number[];
  /** Expected information of a, b and the boundaries, in this order. */
  readonly information: readonly (readonly number[])[];
}

/**
 * Likelihood of counts per category, the least suspicious first. Without the condition the hidden
 * variable is standard normal; with it, category k ends at b t_k - a on the standard normal scale.
 */
export function binormalLikelihood(
  { a, b, boundaries }: BinormalParameters,
  cases: readonly number[],
  controls: readonly number[],
): BinormalLikelihood {
  const size = boundaries.length + 2;
  const score = new Array<number>(size).fill(0);
  const information = score.map(() => new Array<number>(size).fill(0));
  const ascending = boundaries.every((boundary, k) => k === 0 || boundary > boundaries[k - 1]);
  if (!(b > 0) || !ascending) {
    return { logLikelihood: Number.NEGATIVE_INFINITY, score, information };
  }
  let logLikelihood = 0;
  const addClass = (counts: readonly number[], ends: readonly number[], slopes: number[][]) => {
    const total = counts.reduce((sum, count) => sum + count, 0);
    for (let k = 0; k < counts.length; k++) {
      const lower = k === 0 ? 0 : normalCdf(ends[k - 1]);
      const upper = k === ends.length ? 1 : normalCdf(ends[k]);
      const p = Math.max(upper - lower, 1e-300);
      // derivative of the category's probability by each parameter
      const d = new Array<number>(size).fill(0);
      if (k > 0) addScaled(d, slopes[k - 1], -density(ends[k - 1]));
      if (k < ends.length) addScaled(d, slopes[k], density(ends[k]));
      if (counts[k] > 0) logLikelihood += counts[k] * Math.log(p);
      for (let i = 0; i < size; i++) {
        if (d[i] === 0) continue;
        score[i] += (counts[k] * d[i]) / p;
        for (let j = 0; j < size; j++) information[i][j] += (total * d[i] * d[j]) / p;
      }
    }
  };
  const unit = (k: number, value: number) => {
    const slope = new Array<number>(size).fill(0);
    slope[k + 2] = value;
    return slope;
  };
  addClass(
    controls,
    boundaries,
    boundaries.map((_, k) => unit(k, 1)),
  );
  addClass(
    cases,
    boundaries.map((t) => b * t - a),
    boundaries.map((t, k) => {
      const slope = unit(k, b);
      slope[0] = -1;
      slope[1] = t;
      return slope;
    }),
  );
  return { logLikelihood, score, information };
}

function addScaled(to: number[], from: readonly number[], factor: number): void {
  for (let i = 0; i < to.length; i++) to[i] += factor * from[i];
}

const density = (x: number): number => Math.exp(-0.5 * x * x) / Math.sqrt(2 * Math.PI);
