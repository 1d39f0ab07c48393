import { jackknifeSums, normalCdf, requireLevel } from "../inference/index.js";
import { type Estimate, InputError, type Undefined, undefinedBecause } from "../results/index.js";
import {
  type ClusterColumns,
  type Clusters,
  childrenOf,
  directionOf,
  isStrict,
  type Limit,
  meets,
  requireNumbers,
  requireSameLength,
  sitesOf,
  sumsOf,
  type TestColumn,
  takeClusters,
  type UndecidablePolicy,
} from "../rows/index.js";
import { accuracyOfRows } from "./accuracyOfRows.js";
import { decidedCodes } from "./undecidable.js";

/** One size of the reference's error, and what it does. */
export interface ReferenceErrorRow {
  readonly errorSd: number;
  /** Rows whose reference lies within one such SD of the limit. */
  readonly nearLimit: number;
  /** Share of all rows that an exam again would be expected to put on the other side of the limit. */
  readonly otherSide: number;
  /** Rates with 0.5, 1, 1.5 and 2 times the error's variance added to the reference. */
  readonly added: readonly {
    readonly variances: number;
    readonly sensitivity: number;
    readonly specificity: number;
  }[];
  /** Rates against a reference without error, by extrapolation; jackknife of children, or of sites. */
  readonly sensitivity: Estimate | Undefined;
  readonly specificity: Estimate | Undefined;
}

/** What an imperfect reference does to sensitivity and specificity; beside the headline, not in its place. */
export interface ImperfectReference {
  readonly kind: "imperfect-reference";
  /** Rows counted. */
  readonly n: number;
  readonly limit: Limit;
  readonly step: number;
  readonly level: number;
  /** The headline: the reference taken as it is. */
  readonly observed: {
    readonly sensitivity: Estimate | Undefined;
    readonly specificity: Estimate | Undefined;
  };
  readonly rows: readonly ReferenceErrorRow[];
  readonly method: string;
  readonly notes: readonly string[];
}

/**
 * Sensitivity analysis for a reference that errs: children near the limit of the condition are put on
 * the wrong side, which makes a good test look worse. The error's SD is declared, or comes from
 * repeated exams (`repeatability(...).withinSd`).
 *
 * Simulation and extrapolation (Cook and Stefanski 1994), with its simulation done exactly: to each
 * reference normal error of 0.5, 1, 1.5 and 2 times the variance is added, within its step of
 * rounding; the expected rates are taken on the logit scale, and the parabola through them is read at
 * -1, where the error is gone. Nothing is assumed of the refraction in the population or of the test,
 * but that the reference's error is normal, of one size, and independent of the test's. With an error
 * SD above about half of the test's own the parabola takes away too little, never too much by more
 * than .02 (`tests/accuracy/imperfectReference.slow.ts`). Intervals: delete one child (with `clusters`,
 * one site) at a time, on the logit scale; they hold for the error's SD as it is stated.
 *
 * Reference, limit, error and step are in dioptres; rates are proportions, 0 to 1.
 *
 * @param options `errorSd`: one SD or several; `step` of the reference's values, 0.125 for M of
 * prescriptions in quarters (the default), 0 for values that were not rounded
 * @throws when lengths differ, a value is faulty or no whole step, an SD is not above 0, or rows are
 * undecidable and no policy is given
 *
 * @example
 * const exam = { test: [1, 1, 0, 1, 0, 0, 0, 0], reference: [3, 2.5, 2, 1.75, 1.5, 1, 0, 0] };
 * imperfectReference(exam, { limit: { relation: ">=", limit: 2 }, errorSd: 0.25, step: 0.25 }).rows[0].otherSide // => 0.0893
 */
export function imperfectReference(
  data: ClusterColumns & { readonly test: TestColumn; readonly reference: ArrayLike<number> },
  options: {
    readonly limit: Limit;
    readonly errorSd: number | readonly number[];
    readonly step?: number;
    readonly level?: number;
    readonly undecidable?: UndecidablePolicy;
  },
): ImperfectReference {
  const caller = "imperfectReference";
  const { limit, step = 0.125, undecidable } = options;
  const level = requireLevel(caller, options.level ?? 0.95);
  const { test, reference: values, ...whose } = data;
  const n = requireSameLength(caller, { test, reference: values });
  if (n === 0) throw new InputError(`${caller} requires at least 1 row, got none`);
  requireNumbers(caller, "reference", values, n);
  requireSteps(caller, values, step);
  const sizes = [options.errorSd].flat();
  const strange = sizes.find((sd) => !(sd > 0 && sd < 100));
  if (sizes.length === 0 || strange !== undefined) {
    throw new InputError(`${caller} requires an errorSd above 0, in dioptres, got ${strange}`);
  }
  const codes = decidedCodes(caller, "test", test, undecidable);
  const reference = Array.from(values, (value) => meets(value, limit));
  const accuracy = accuracyOfRows({ ...whose, test, reference }, { level, undecidable });
  const kept = [...codes.keys()].filter((row) => codes[row] < 2);
  const { whose: own, sites } = clustersOfKept(caller, whose, kept);
  const rows = {
    whose: own,
    sites,
    referred: kept.map((row) => codes[row] === 1),
    has: kept.map((row) => reference[row]),
    // From the limit inwards; the limit itself is the nearest value that has the condition.
    inside: kept.map((row) => insideBy(values[row], limit, step)),
  };
  return {
    kind: "imperfect-reference",
    n: kept.length,
    limit,
    step,
    level,
    observed: { sensitivity: accuracy.sensitivity, specificity: accuracy.specificity },
    rows: sizes.map((errorSd) => rowOf(rows, errorSd, step, level)),
    method: "simulation-extrapolation",
    notes: [
      "A sensitivity analysis: the headline takes the reference as it is.",
      "Right only if the reference's error is independent of the test's: a shared cause, such as too little cycloplegia at both, is not corrected.",
      "The parabola through added error takes away rather too little; the intervals take the stated size of the error for known.",
    ],
  };
}

/** Times the variance, and the weight of each in the least-squares parabola read at -1. */
const variances = [0, 0.5, 1, 1.5, 2];
const weightsAtMinusOne = [3, -0.4, -1.8, -1.2, 1.4];

interface PreparedReference {
  /** The child, or the site, of each row. */
  readonly whose: Clusters;
  readonly sites: boolean;
  readonly referred: readonly boolean[];
  readonly has: readonly boolean[];
  readonly inside: readonly number[];
}

function rowOf(
  rows: PreparedReference,
  errorSd: number,
  step: number,
  level: number,
): ReferenceErrorRow {
  const chances = variances.map((times) =>
    rows.inside.map((inside, row) =>
      times === 0 ? Number(rows.has[row]) : chanceInside(inside, errorSd * Math.sqrt(times), step),
    ),
  );
  // Of each child, by size of the error: expected hits, with the condition, passes without, without.
  const sums = sumsOf(rows.whose, 4 * variances.length, (row) =>
    chances.flatMap((own) => [
      rows.referred[row] ? own[row] : 0,
      own[row],
      rows.referred[row] ? 0 : 1 - own[row],
      1 - own[row],
    ]),
  );
  const totals = Array.from({ length: 4 * variances.length }, (_, k) =>
    sums.reduce((sum, one) => sum + one[k], 0),
  );
  const rate = (of: readonly number[], first: 0 | 2, at: number) =>
    of[4 * at + first] / of[4 * at + first + 1];
  const withoutError = (first: 0 | 2): Estimate | Undefined => {
    const extrapolate = (of: readonly number[]) =>
      extrapolated(variances.map((_, at) => rate(of, first, at)));
    if (extrapolate(totals) === null) {
      return undefinedBecause("a rate of 0, of 1, or of nobody has no logit to extrapolate");
    }
    const found = jackknifeSums(sums, extrapolate, {
      denominator: (own) => own[4 * (variances.length - 1) + first + 1],
      scale: "logit",
      level,
    });
    return found.kind === "undefined" || rows.sites
      ? found
      : { ...found, method: "logit-jackknife-clusters" };
  };
  const moved = chances[variances.indexOf(1)].map((chance, row) =>
    rows.has[row] ? 1 - chance : chance,
  );
  return {
    errorSd,
    nearLimit: rows.inside.filter((inside) => Math.abs(inside) <= errorSd + 1e-9).length,
    otherSide: moved.reduce((sum, chance) => sum + chance, 0) / moved.length,
    added: variances.slice(1).map((times, index) => ({
      variances: times,
      sensitivity: rate(totals, 0, index + 1),
      specificity: rate(totals, 2, index + 1),
    })),
    sensitivity: withoutError(0),
    specificity: withoutError(2),
  };
}

/** The child, or the site, of the rows that are counted. */
function clustersOfKept(caller: string, whose: ClusterColumns, kept: readonly number[]) {
  const columns = takeClusters(whose, kept);
  const children = childrenOf(caller, columns, kept.length);
  const sites = sitesOf(caller, columns, children);
  return { whose: sites ?? children, sites: sites !== undefined };
}

/** Null where a rate of 0, of 1 or of nobody has no logit. */
function extrapolated(rates: readonly number[]): number | null {
  if (!rates.every((rate) => rate > 0 && rate < 1)) return null;
  const logit = rates.reduce(
    (sum, rate, at) => sum + weightsAtMinusOne[at] * Math.log(rate / (1 - rate)),
    0,
  );
  return 1 / (1 + Math.exp(-logit));
}

/** How far a value lies on the condition's side of the place where rounding divides; below 0 outside. */
function insideBy(value: number, { relation, limit }: Limit, step: number): number {
  const sign = directionOf({ relation }) === "high" ? 1 : -1;
  const at = sign * limit;
  if (step === 0) return sign * value - at;
  const first = isStrict({ relation })
    ? Math.floor(at / step + 1e-6) + 1
    : Math.ceil(at / step - 1e-6);
  return sign * value - (first - 0.5) * step;
}

/** Chance of the condition's side after error, the value being anywhere within its step. */
function chanceInside(inside: number, sd: number, step: number): number {
  if (step === 0) return normalCdf(inside / sd);
  const integral = (x: number) =>
    x * normalCdf(x) + Math.exp((-x * x) / 2) / Math.sqrt(2 * Math.PI);
  const width = step / sd;
  return (integral(inside / sd + width / 2) - integral(inside / sd - width / 2)) / width;
}

function requireSteps(caller: string, values: ArrayLike<number>, step: number): void {
  if (!(step >= 0 && step < 10)) {
    throw new InputError(`${caller} requires a step of 0 or more dioptres, got ${step}`);
  }
  if (step === 0) return;
  for (let row = 0; row < values.length; row++) {
    const steps = values[row] / step;
    if (Math.abs(steps - Math.round(steps)) > 1e-6) {
      throw new InputError(
        `${caller} requires reference in whole steps of ${step} D, got ${values[row]} in row ${row}; state the step of these values, or 0 where they were not rounded`,
      );
    }
  }
}
