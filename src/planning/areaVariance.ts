import { normalQuantile } from "../inference/distributions.js";

/** Parts of the variance of an area: of the rows with and of those without the condition. */
export interface AreaVarianceParts {
  readonly ofCases: number;
  readonly ofControls: number;
}

/**
 * Variance of an area for two normal distributions of equal SD (Obuchowski and McClish 1997):
 * 0.0099 exp(-A²/2) ((5A² + 8) / cases + (A² + 8) / controls), A = 1.414 times the normal quantile
 * of the area.
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
 * Variance of an area by Hanley and McNeil 1982 from two exponential distributions:
 * Q1 = A / (2 - A), Q2 = 2A² / (1 + A). The small part A(1 - A) - ... over both numbers is counted
 * with the cases.
 */
export function exponentialVariance(
  area: number,
  cases: number,
  controls: number,
): AreaVarianceParts {
  const square = area * area;
  const q1 = area / (2 - area) - square;
  const q2 = (2 * square) / (1 + area) - square;
  return {
    ofCases: q2 / cases + (area * (1 - area) - q1 - q2) / (cases * controls),
    ofControls: q1 / controls,
  };
}
