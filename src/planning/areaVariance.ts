import { normalCdf, normalQuantile } from "../inference/index.js";

/** Parts of the variance of an area: of the rows with and of those without the condition. */
export interface AreaVarianceParts {
  readonly ofCases: number;
  readonly ofControls: number;
}

/**
 * Variance of an area for two normal distributions of equal SD (Obuchowski and McClish 1997):
 * 0.0099 exp(-A²/2) ((5A² + 8) / cases + (A² + 8) / controls), A = 1.414 times the normal quantile
 * of the area. It takes the two parameters of the curve for independent, which they are not, and is
 * too large for the empirical area, at 0.85 by a third to a half and more.
 */
export function obuchowskiVariance(
  area: number,
  cases: number,
  controls: number,
): AreaVarianceParts {
  // biome-ignore lint/suspicious/noApproximativeNumericConstant: 1.414 as printed
  const a = 1.414 * normalQuantile(area);
  const front = 0.0099 * Math.exp((-a * a) / 2);
  return {
    ofCases: (front * (5 * a * a + 8)) / cases,
    ofControls: (front * (a * a + 8)) / controls,
  };
}

/**
 * Variance of the empirical area where readings are normal with equal SD after some rising
 * transformation: exact, by the probabilities that one row of a class is outranked by, or outranks,
 * two of the other, which are equal here and come from an integral.
 */
export function binormalVariance(area: number, cases: number, controls: number): AreaVarianceParts {
  const shift = Math.SQRT2 * normalQuantile(area);
  const step = 0.125;
  let both = 0;
  for (let x = -9; x <= 9; x += step) {
    both += step * normalCdf(x + shift) ** 2 * Math.exp((-x * x) / 2);
  }
  both /= Math.sqrt(2 * Math.PI);
  return rankVariance(area, both, both, cases, controls);
}

/**
 * Variance of an area by Hanley and McNeil 1982, from two exponential distributions:
 * Q1 = A / (2 - A), Q2 = 2A² / (1 + A).
 */
export function exponentialVariance(
  area: number,
  cases: number,
  controls: number,
): AreaVarianceParts {
  return rankVariance(area, area / (2 - area), (2 * area * area) / (1 + area), cases, controls);
}

/**
 * Variance of the Mann-Whitney statistic: q1 is the chance that two cases outrank one control, q2
 * that one case outranks two. The small part over both numbers is counted with the cases.
 */
function rankVariance(
  area: number,
  q1: number,
  q2: number,
  cases: number,
  controls: number,
): AreaVarianceParts {
  const square = area * area;
  const rest = area * (1 - area) - (q1 - square) - (q2 - square);
  return {
    ofCases: (q2 - square) / cases + rest / (cases * controls),
    ofControls: (q1 - square) / controls,
  };
}
