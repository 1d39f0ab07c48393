import { tEstimate, twoSidedT } from "../../inference/index.js";
import type { Estimate } from "../../results/index.js";
import { averageOf, type Clusters } from "../../rows/index.js";
import { choleskyInverse } from "./smallMatrix.js";

/** Least squares with the covariance of its coefficients. */
export interface LinearFit extends Coefficients {
  readonly covariance: readonly (readonly number[])[];
  readonly residuals: Float64Array;
  readonly residualSquares: number;
}

/** What the interval and the p of a coefficient are made from. */
export interface Coefficients {
  readonly coefficients: readonly number[];
  readonly variances: readonly number[];
  /** Degrees of freedom of an interval. */
  readonly df: number;
  readonly errors: "robust" | "cluster-robust";
}

/**
 * Least squares of y on columns (the intercept is one of them). Errors never take the spread for
 * constant: HC3 when every row is its own cluster (MacKinnon and White 1985; each residual over 1
 * minus its leverage), else cluster-robust (Liang and Zeger 1986) with the factor G/(G-1)
 * (N-1)/(N-p) and G-1 degrees of freedom. Null where the columns are collinear or the rows
 * or clusters too few.
 */
export function linearFit(
  y: ArrayLike<number>,
  columns: readonly ArrayLike<number>[],
  clusters: Clusters,
): LinearFit | null {
  const [n, p] = [y.length, columns.length];
  const clustered = clusters.count < n;
  const df = clustered ? clusters.count - 1 : n - p;
  if (n <= p || df < 1) return null;
  // Columns are scaled to at most 1, so that dioptres and months mix.
  const scale = columns.map((column) => largest(column) || 1);
  const cell = (j: number, i: number) => columns[j][i] / scale[j];
  const cross = Array.from({ length: p }, () => new Array<number>(p).fill(0));
  const right = new Array<number>(p).fill(0);
  for (let i = 0; i < n; i++) {
    for (let j = 0; j < p; j++) {
      right[j] += cell(j, i) * y[i];
      for (let k = 0; k <= j; k++) cross[j][k] += cell(j, i) * cell(k, i);
    }
  }
  for (let j = 0; j < p; j++) for (let k = 0; k < j; k++) cross[k][j] = cross[j][k];
  const inverse = choleskyInverse(cross);
  if (inverse === null) return null;
  const scaled = inverse.map((row) => row.reduce((sum, value, k) => sum + value * right[k], 0));
  const residuals = new Float64Array(n);
  let residualSquares = 0;
  for (let i = 0; i < n; i++) {
    let fitted = 0;
    for (let j = 0; j < p; j++) fitted += cell(j, i) * scaled[j];
    residuals[i] = y[i] - fitted;
    residualSquares += residuals[i] * residuals[i];
  }
  // A row that a coefficient fits by itself has leverage 1 and no residual.
  const share = (i: number) => {
    if (clustered) return residuals[i];
    let leverage = 0;
    for (let j = 0; j < p; j++) {
      for (let k = 0; k < p; k++) leverage += cell(j, i) * inverse[j][k] * cell(k, i);
    }
    return leverage > 1 - 1e-9 ? 0 : residuals[i] / (1 - leverage);
  };
  const scores = Array.from({ length: clusters.count }, () => new Float64Array(p));
  for (let i = 0; i < n; i++) {
    const residual = share(i);
    for (let j = 0; j < p; j++) scores[clusters.ofRow[i]][j] += cell(j, i) * residual;
  }
  const meat = Array.from({ length: p }, () => new Array<number>(p).fill(0));
  for (const score of scores) {
    for (let j = 0; j < p; j++) for (let k = 0; k < p; k++) meat[j][k] += score[j] * score[k];
  }
  const factor = clustered ? (clusters.count / (clusters.count - 1)) * ((n - 1) / (n - p)) : 1;
  const covariance = product(product(inverse, meat), inverse).map((row) =>
    row.map((value) => value * factor),
  );
  return {
    coefficients: scaled.map((value, j) => value / scale[j]),
    covariance: covariance.map((row, j) => row.map((value, k) => value / (scale[j] * scale[k]))),
    variances: covariance.map((row, j) => row[j] / scale[j] ** 2),
    df,
    errors: clustered ? "cluster-robust" : "robust",
    residuals,
    residualSquares,
  };
}

/** A column less its mean, so that an offset such as a year costs no digits; null where rounding alone varies it. */
export function centred(column: ArrayLike<number>): Float64Array | null {
  const mean = averageOf(column);
  const away = Float64Array.from(column, (value) => value - mean);
  return largest(away) > 1e-14 * largest(column) ? away : null;
}

/** One coefficient as an estimate. */
export function coefficientEstimate(fit: Coefficients, index: number, level: number): Estimate {
  const value = fit.coefficients[index];
  const se = Math.sqrt(Math.max(0, fit.variances[index]));
  const method = fit.errors === "cluster-robust" ? "t-cluster-robust" : "t-robust";
  return tEstimate(value, se, { df: fit.df, level, method });
}

/** Two-sided p of one coefficient. */
export function coefficientP(fit: Coefficients, index: number): number {
  const se = Math.sqrt(Math.max(0, fit.variances[index]));
  if (!(se > 0)) return fit.coefficients[index] === 0 ? 1 : 0;
  return twoSidedT(fit.coefficients[index] / se, fit.df);
}

function largest(column: ArrayLike<number>): number {
  let result = 0;
  for (let i = 0; i < column.length; i++) result = Math.max(result, Math.abs(column[i]));
  return result;
}

function product(a: readonly number[][], b: readonly number[][]): number[][] {
  return a.map((row) =>
    b[0].map((_, k) => row.reduce((sum, value, j) => sum + value * b[j][k], 0)),
  );
}
