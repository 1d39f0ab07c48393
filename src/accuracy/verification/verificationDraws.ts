import { randomBeta, randomGamma } from "d3-random";
import { quantileSorted } from "simple-statistics";
import { createRandom } from "../../inference/index.js";
import type { Stratum } from "./verificationStrata.js";

/** Percentile limits of the corrected accuracy. */
export interface DrawnLimits {
  readonly sensitivity: readonly [number, number];
  readonly specificity: readonly [number, number];
  readonly prevalence: readonly [number, number];
}

/**
 * Percentile limits over draws from Jeffreys' posterior: rates from Beta(cases + 1/2, others + 1/2)
 * in each stratum and test result, sizes from a Dirichlet with 1/2 added to each. Good where a
 * verified cell is 0 and the delta method has no variance to offer.
 */
export function verificationDraws(
  strata: readonly Stratum[],
  options: { readonly seed: number; readonly draws: number; readonly level: number },
): DrawnLimits {
  const { seed, draws, level } = options;
  const { uniform } = createRandom(seed);
  const beta = randomBeta.source(uniform);
  const gamma = randomGamma.source(uniform);
  const groups = strata.flatMap((s) => [
    group("positive", s.positives, s.verified.truePositive, s.verified.falsePositive),
    group("negative", s.negatives, s.verified.falseNegative, s.verified.trueNegative),
  ]);
  const samplers = groups
    .filter(({ size }) => size > 0)
    .map(({ side, size, cases, others }) => ({
      side,
      size: gamma(size + 0.5),
      rate: beta(cases + 0.5, others + 0.5),
    }));
  const sensitivity = new Float64Array(draws);
  const specificity = new Float64Array(draws);
  const prevalence = new Float64Array(draws);
  for (let draw = 0; draw < draws; draw++) {
    const part = { positive: [0, 0], negative: [0, 0] };
    for (const { side, size, rate } of samplers) {
      const weight = size();
      const share = rate();
      part[side][0] += weight * share;
      part[side][1] += weight * (1 - share);
    }
    const withCondition = part.positive[0] + part.negative[0];
    const withoutCondition = part.positive[1] + part.negative[1];
    sensitivity[draw] = part.positive[0] / withCondition;
    specificity[draw] = part.negative[1] / withoutCondition;
    prevalence[draw] = withCondition / (withCondition + withoutCondition);
  }
  return {
    sensitivity: percentiles(sensitivity, level),
    specificity: percentiles(specificity, level),
    prevalence: percentiles(prevalence, level),
  };
}

const group = (side: "positive" | "negative", size: number, cases: number, others: number) => ({
  side,
  size,
  cases,
  others,
});

/** Quantiles of type 7. */
function percentiles(values: Float64Array, level: number): [number, number] {
  const sorted = Array.from(values.sort());
  return [quantileSorted(sorted, (1 - level) / 2), quantileSorted(sorted, (1 + level) / 2)];
}
