import { fTail, requireLevel } from "../../inference/index.js";
import { type Estimate, InputError } from "../../results/index.js";
import { childrenOf, requireNoSites, requireNumbers, requirePairs } from "../../rows/index.js";
import { averageOf } from "../averageOf.js";
import type { PairedMeasurements } from "../limits/pairedMeasurements.js";
import { coefficientEstimate, coefficientP, linearFit } from "./robustRegression.js";
import { choleskyInverse, quadraticForm } from "./smallMatrix.js";

/** The difference of two measurements on covariates. */
export interface DifferenceRegression {
  readonly kind: "difference-regression";
  readonly n: number;
  readonly subjects: number;
  readonly level: number;
  readonly errors: "classical" | "cluster-robust";
  /** The intercept comes first, named `(intercept)`. */
  readonly coefficients: readonly {
    readonly name: string;
    readonly estimate: Estimate;
    readonly p: number;
  }[];
  /** Wald test that all covariates have no effect. */
  readonly wald: { readonly f: number; readonly df: readonly [number, number]; readonly p: number };
  readonly residualSd: number;
}

/**
 * Least-squares regression of test minus reference on covariates (age, confidence score, pupil,
 * delay; categories as columns of 0 and 1), errors cluster-robust where subjects repeat (Liang and
 * Zeger 1986; G - 1 degrees of freedom). A covariate that contains the reading or the finding itself
 * carries part of the difference's error: see the caution of `limitsOfAgreement`.
 *
 * @throws when columns differ in length or hold a value not finite (leave such rows out and count
 * them), covariates are collinear, or rows or subjects are too few
 *
 * @example
 * differenceRegression({ test: [1, 2, 3, 5, 6], reference: [1, 1, 1, 2, 2], covariates: { ageYears: [3, 4, 5, 6, 7] } }).coefficients[1].estimate.value // => 1
 */
export function differenceRegression(
  data: PairedMeasurements & {
    readonly covariates: { readonly [name: string]: ArrayLike<number> };
  },
  options: { readonly level?: number } = {},
): DifferenceRegression {
  const caller = "differenceRegression";
  const { test, reference, covariates } = data;
  const level = requireLevel(caller, options.level ?? 0.95);
  const n = requirePairs(caller, { test, reference }, 3);
  const names = Object.keys(covariates);
  if (names.length === 0)
    throw new InputError(`${caller} requires at least one covariate, got none`);
  for (const name of names) {
    if (covariates[name].length !== n) {
      throw new InputError(
        `${caller} requires ${name} for each of ${n} rows, got ${covariates[name].length}`,
      );
    }
    requireNumbers(caller, name, covariates[name], n);
  }
  requireNoSites(caller, data);
  const clusters = childrenOf(caller, data, n);
  // Centred while fitting, so that an offset such as a year does not cost digits.
  const centres = names.map((name) => averageOf(covariates[name]));
  const columns = names.map((name, j) =>
    Float64Array.from(covariates[name], (x) => x - centres[j]),
  );
  const differences = Float64Array.from({ length: n }, (_, row) => test[row] - reference[row]);
  const fit = linearFit(differences, [new Float64Array(n).fill(1), ...columns], clusters);
  if (fit === null || fit.df < names.length) {
    throw new InputError(
      `${caller} requires covariates that are not collinear and more rows and subjects than covariates, got ${names.join(", ")}`,
    );
  }
  const slopes = fit.coefficients.slice(1);
  const covariance = fit.covariance.slice(1).map((row) => row.slice(1));
  const inverse = choleskyInverse(covariance);
  const f =
    inverse === null ? Number.POSITIVE_INFINITY : quadraticForm(slopes, inverse) / names.length;
  const moved = atOrigin(fit, centres);
  return {
    kind: "difference-regression",
    n,
    subjects: clusters.count,
    level,
    errors: fit.errors,
    coefficients: ["(intercept)", ...names].map((name, index) => ({
      name,
      estimate: coefficientEstimate(moved, index, level),
      p: coefficientP(moved, index),
    })),
    wald: { f, df: [names.length, fit.df], p: fTail(f, names.length, fit.df) },
    residualSd: Math.sqrt(fit.residualSquares / (n - names.length - 1)),
  };
}

/** The fit with its intercept where all covariates are 0. */
function atOrigin(fit: NonNullable<ReturnType<typeof linearFit>>, centres: readonly number[]) {
  const direction = [1, ...centres.map((centre) => -centre)];
  const toRow = fit.covariance.map((row) => row.reduce((sum, v, j) => sum + v * direction[j], 0));
  const variance = quadraticForm(direction, fit.covariance);
  const covariance = fit.covariance.map((row, i) =>
    row.map((value, j) =>
      i === 0 && j === 0 ? variance : i === 0 ? toRow[j] : j === 0 ? toRow[i] : value,
    ),
  );
  const intercept = fit.coefficients.reduce((sum, value, j) => sum + value * direction[j], 0);
  return { ...fit, coefficients: [intercept, ...fit.coefficients.slice(1)], covariance };
}
