import {
  effectiveSites,
  fTail,
  jackknifeEstimate,
  requireLevel,
  twoSidedT,
} from "../../inference/index.js";
import {
  type Estimate,
  InputError,
  type Undefined,
  undefinedBecause,
} from "../../results/index.js";
import {
  averageOf,
  type Clusters,
  childrenOf,
  clustersOf,
  requireNumbers,
  requirePairs,
  sitesOf,
  takeRows,
} from "../../rows/index.js";
import type { PairedMeasurements } from "../limits/pairedMeasurements.js";
import {
  type Coefficients,
  centred,
  coefficientEstimate,
  coefficientP,
  type LinearFit,
  linearFit,
} from "./robustRegression.js";
import { choleskyInverse, quadraticForm } from "./smallMatrix.js";

/** The difference of two measurements on covariates. */
export interface DifferenceRegression {
  readonly kind: "difference-regression";
  readonly n: number;
  readonly subjects: number;
  readonly level: number;
  /** Sites above them, where `clusters` were given. */
  readonly sites?: number;
  readonly errors: "robust" | "cluster-robust" | "site-jackknife";
  /** The intercept comes first, named `(intercept)`. */
  readonly coefficients: readonly {
    readonly name: string;
    readonly estimate: Estimate | Undefined;
    /** Two-sided; null where the estimate is undefined or has no error. */
    readonly p: number | null;
  }[];
  /** Wald test that all covariates have no effect; undefined with sites. */
  readonly wald:
    | { readonly f: number; readonly df: readonly [number, number]; readonly p: number }
    | Undefined;
  readonly residualSd: number;
}

/**
 * Least-squares regression of test minus reference on covariates (age, confidence score, pupil,
 * delay; categories as columns of 0 and 1). Errors hold where the spread changes with the covariate:
 * HC3 for independent rows (MacKinnon and White 1985; Long and Ervin 2000), cluster-robust where
 * subjects repeat (Liang and Zeger 1986; G - 1 degrees of freedom), a delete-one-site jackknife with
 * `clusters`. A covariate that contains the reading or the finding itself
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
  const clusters = childrenOf(caller, data, n);
  const sites = sitesOf(caller, data, clusters);
  const centres = names.map((name) => averageOf(covariates[name]));
  const columns = names.flatMap((name) => centred(covariates[name]) ?? []);
  const differences = Float64Array.from({ length: n }, (_, row) => test[row] - reference[row]);
  const predictors = [new Float64Array(n).fill(1), ...columns];
  const fit = columns.length < names.length ? null : linearFit(differences, predictors, clusters);
  if (fit === null || fit.df < names.length) {
    throw new InputError(
      `${caller} requires covariates that are not collinear and more rows and subjects than covariates, got ${names.join(", ")}`,
    );
  }
  const shape = {
    kind: "difference-regression" as const,
    n,
    subjects: clusters.count,
    level,
    residualSd: Math.sqrt(fit.residualSquares / (n - names.length - 1)),
  };
  if (sites) {
    const overSites = siteCoefficients(differences, predictors, sites, centres, level);
    return {
      ...shape,
      sites: sites.count,
      errors: "site-jackknife",
      coefficients: ["(intercept)", ...names].map((name, index) => ({ name, ...overSites[index] })),
      wald: undefinedBecause("sites: no joint test is known to hold above children"),
    };
  }
  const slopes = fit.coefficients.slice(1);
  const covariance = fit.covariance.slice(1).map((row) => row.slice(1));
  // Rounding alone is no error.
  const squares = differences.reduce((sum, one) => sum + one * one, 0);
  const inverse = fit.residualSquares > 1e-24 * squares ? choleskyInverse(covariance) : null;
  const moved = atOrigin(fit, centres);
  return {
    ...shape,
    errors: fit.errors,
    coefficients: ["(intercept)", ...names].map((name, index) => ({
      name,
      estimate: coefficientEstimate(moved, index, level),
      p: coefficientP(moved, index),
    })),
    wald: inverse === null ? undefinedBecause(withoutError) : waldOf(slopes, inverse, fit.df),
  };
}

const withoutError = "the covariates fit every difference: no error is left to test them by";

function waldOf(slopes: readonly number[], inverse: readonly (readonly number[])[], df: number) {
  const f = quadraticForm(slopes, inverse) / slopes.length;
  return { f, df: [slopes.length, df] as const, p: fTail(f, slopes.length, df) };
}

/** Each coefficient with its interval by a jackknife over sites; the intercept where covariates are 0. */
function siteCoefficients(
  differences: Float64Array,
  predictors: readonly Float64Array[],
  sites: Clusters,
  centres: readonly number[],
  level: number,
) {
  const coefficientsOf = (rows: readonly number[]): readonly number[] | null => {
    const each = clustersOf("differenceRegression", undefined, rows.length);
    const fit = linearFit(
      takeRows(differences, rows),
      predictors.map((column) => takeRows(column, rows)),
      each,
    );
    return fit && atOrigin(fit, centres).coefficients;
  };
  const all = [...differences.keys()];
  const whole = coefficientsOf(all)!;
  const without = Array.from({ length: sites.count }, (_, site) =>
    coefficientsOf(all.filter((row) => sites.ofRow[row] !== site)),
  );
  const denominators = Array.from(sites.sizes);
  return whole.map((value, index) => {
    const estimate = jackknifeEstimate({
      value,
      leftOut: without.map((one) => one?.[index] ?? null),
      denominators,
      scale: "plain",
      level,
    });
    const p =
      estimate.kind === "undefined" || !estimate.se
        ? null
        : twoSidedT(value / estimate.se, effectiveSites(denominators) - 1);
    return { estimate, p };
  });
}

/** The coefficients with the intercept where all covariates are 0. */
function atOrigin(fit: LinearFit, centres: readonly number[]): Coefficients {
  const direction = [1, ...centres.map((centre) => -centre)];
  const intercept = fit.coefficients.reduce((sum, value, j) => sum + value * direction[j], 0);
  return {
    ...fit,
    coefficients: [intercept, ...fit.coefficients.slice(1)],
    variances: [quadraticForm(direction, fit.covariance), ...fit.variances.slice(1)],
  };
}
