import { shuffleInPlace } from "simple-statistics";
import { createRandom, requireLevel, siteJackknife } from "../../inference/index.js";
import { caution, type Estimate, InputError, type Undefined } from "../../results/index.js";
import {
  averageOf,
  type ClusterColumns,
  type Clusters,
  childrenOf,
  clustersOf,
  requireNumbers,
  requirePairs,
  sitesOf,
} from "../../rows/index.js";
import { type CalibrationRange, calibrationRanges } from "./calibrationRanges.js";
import { coefficientEstimate, linearFit } from "./robustRegression.js";

/** The line that turns a reading into the finding expected, checked on folds. */
export interface Calibration {
  readonly kind: "calibration";
  readonly label: "research estimate";
  readonly n: number;
  readonly subjects: number;
  readonly level: number;
  readonly intercept: Estimate;
  /** Change of the predicted finding per dioptre of the reading. */
  readonly slope: Estimate;
  /** Change per year of age, where ages were given. */
  readonly perYear: Estimate | null;
  readonly folds: number;
  readonly seed: number;
  /** Of children who were not fitted: mean and SD of predicted minus reference. */
  readonly crossValidated: {
    readonly bias: number;
    readonly sd: number;
  };
  /**
   * Ranges of the reading, with the errors (predicted minus finding) that limits are made of and the
   * share of children's rows, not fitted and not counted into these limits, that they hold.
   */
  readonly ranges: readonly CalibrationRange[];
  /** The same over all ranges. */
  readonly coverage: Estimate | Undefined;
  /** SD of test minus reference without calibration, for comparison. */
  readonly uncalibratedSd: number;
  /** Readings and ages that were seen; nothing is predicted outside. */
  readonly range: {
    readonly test: readonly [number, number];
    readonly ageYears: readonly [number, number] | null;
  };
  readonly caution: string;
}

/**
 * A straight line from the reading (and age) to the cycloplegic finding, cross-validated by child:
 * all rows of a child are in one fold (with `clusters` all rows of a site, and the coefficients have the intervals
 * of a delete-one-site jackknife). A research estimate, never to be written back into the
 * readings; `predictFinding` uses it within the range of age and power that was seen.
 *
 * Limits of a prediction are conformal: order statistics of the errors of children who were not
 * fitted, in up to five ranges of the reading (`breaks` fixes them), because the error differs from range
 * to range. With fewer than 39 rows in a range there are no limits at 0.95. The measured coverage of
 * each range stands beside; it is a share of eyes alike, never a promise for one child.
 *
 * @param data test and reference in dioptres, ages in years
 * @throws when columns differ in length, hold a value not finite, do not vary, or there are fewer
 * children than folds or than 10
 *
 * @example
 * const fitted = calibrateReading({ test: [-1, 0, 1, 2, 3, -1, 0, 1, 2, 3], reference: [-1, 1, 3, 5, 7, -1, 1, 3, 5, 7] });
 * fitted.slope.value // => 2
 */
export function calibrateReading(
  data: {
    readonly test: ArrayLike<number>;
    readonly reference: ArrayLike<number>;
    readonly ageYears?: ArrayLike<number>;
  } & ClusterColumns,
  options: {
    /** 10 by default, or as many as there are sites where these are fewer. */
    readonly folds?: number;
    readonly seed?: number;
    readonly level?: number;
    /** Readings at which one range ends and the next begins; five equal ones at most by default. */
    readonly breaks?: readonly number[];
  } = {},
): Calibration {
  const caller = "calibrateReading";
  const { test, reference, ageYears } = data;
  const { seed = 1 } = options;
  const level = requireLevel(caller, options.level ?? 0.95);
  const n = requirePairs(caller, { test, reference }, 10);
  if (ageYears) requireNumbers(caller, "ageYears", ageYears, n);
  const clusters = childrenOf(caller, data, n);
  const sites = sitesOf(caller, data, clusters);
  const { folds = Math.min(10, sites?.count ?? 10) } = options;
  if (!Number.isInteger(folds) || folds < 2 || clusters.count < Math.max(10, folds)) {
    throw new InputError(
      `${caller} requires at least 2 folds and 10 subjects, and no more folds than subjects, got ${folds} folds of ${clusters.count}`,
    );
  }
  if (sites !== undefined && sites.count < folds) {
    throw new InputError(
      `${caller} requires no more folds than sites, which are left out whole, got ${folds} folds of ${sites.count}; give fewer folds`,
    );
  }
  // who is left out together: a child, or all children of a site
  const together = sites ?? clusters;
  const columns = [new Float64Array(n).fill(1), test, ...(ageYears ? [ageYears] : [])];
  const fit = linearFit(reference, columns, clusters);
  if (fit === null) throw new InputError(`${caller} requires readings and ages that vary`);
  const foldOf = shuffledFolds(together.count, folds, seed);
  const errors = crossValidatedErrors(reference, columns, together, folds, foldOf);
  const bias = averageOf(errors);
  const sd = deviationOf(errors, bias);
  const ranges = calibrationRanges(
    { test, errors, whose: data, children: clusters, together, foldOf },
    level,
    options.breaks,
  );
  const differences = Float64Array.from({ length: n }, (_, row) => test[row] - reference[row]);
  const coefficient = (index: number): Estimate => {
    if (data.clusters === undefined) return coefficientEstimate(fit, index, level);
    const found = siteJackknife(
      (rows) => coefficientsOf(reference, columns, rows)?.[index] ?? null,
      {
        site: data.clusters.site,
        level,
      },
    );
    if (found.kind === "estimate") return found;
    throw new InputError(
      `${caller} requires more sites, got ${found.reason}; give subjects in place of clusters, knowing that differences between sites are then left out`,
    );
  };
  return {
    kind: "calibration",
    label: "research estimate",
    n,
    subjects: clusters.count,
    level,
    intercept: coefficient(0),
    slope: coefficient(1),
    perYear: ageYears ? coefficient(2) : null,
    folds,
    seed,
    crossValidated: { bias, sd },
    ...ranges,
    uncalibratedSd: deviationOf(differences, averageOf(differences)),
    range: { test: rangeOf(test), ageYears: ageYears ? rangeOf(ageYears) : null },
    caution,
  };
}

/** Coefficients of the line through some of the rows; null where they do not vary. */
function coefficientsOf(
  reference: ArrayLike<number>,
  columns: readonly ArrayLike<number>[],
  rows: readonly number[],
): readonly number[] | null {
  const take = (values: ArrayLike<number>) => rows.map((row) => values[row]);
  const each = clustersOf("calibrateReading", undefined, rows.length);
  return linearFit(take(reference), columns.map(take), each)?.coefficients ?? null;
}

function crossValidatedErrors(
  reference: ArrayLike<number>,
  columns: readonly ArrayLike<number>[],
  clusters: Clusters,
  folds: number,
  foldOf: ArrayLike<number>,
): Float64Array {
  const n = reference.length;
  const errors = new Float64Array(n);
  for (let fold = 0; fold < folds; fold++) {
    const kept: number[] = [];
    const held: number[] = [];
    for (let row = 0; row < n; row++) {
      (foldOf[clusters.ofRow[row]] === fold ? held : kept).push(row);
    }
    const coefficients = coefficientsOf(reference, columns, kept);
    if (coefficients === null) {
      throw new InputError(
        "calibrateReading requires readings that vary in every fold, got a flat one",
      );
    }
    for (const row of held) {
      const predicted = columns.reduce((sum, column, j) => sum + coefficients[j] * column[row], 0);
      errors[row] = predicted - reference[row];
    }
  }
  return errors;
}

/** Folds of equal size but for one, in random order. */
function shuffledFolds(count: number, folds: number, seed: number): number[] {
  const assigned = Array.from({ length: count }, (_, index) => index % folds);
  return shuffleInPlace(assigned, createRandom(seed).uniform);
}

function deviationOf(values: ArrayLike<number>, mean: number): number {
  let squares = 0;
  for (let row = 0; row < values.length; row++) squares += (values[row] - mean) ** 2;
  return Math.sqrt(squares / (values.length - 1));
}

function rangeOf(values: ArrayLike<number>): [number, number] {
  let [low, high] = [Number.POSITIVE_INFINITY, Number.NEGATIVE_INFINITY];
  for (let row = 0; row < values.length; row++) {
    low = Math.min(low, values[row]);
    high = Math.max(high, values[row]);
  }
  return [low, high];
}
