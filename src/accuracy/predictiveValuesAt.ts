import { requireLevel } from "../inference/index.js";
import {
  type Estimate,
  formerNames,
  InputError,
  type TwoByTwo,
  type Undefined,
  undefinedBecause,
} from "../results/index.js";
import {
  negativePredictiveAt,
  type PredictiveMethod,
  positivePredictiveAt,
} from "./predictiveAtPrevalence.js";
import { requireShare, requireTable, requireWord } from "./requireTable.js";

/** Predictive values in a population of one prevalence. */
export interface PredictiveValues {
  readonly kind: "predictive-values";
  /** Rows of the table; null where sensitivity and specificity came as rates. */
  readonly n: number | null;
  readonly prevalence: number;
  readonly level: number;
  readonly method: string;
  readonly positivePredictiveValue: Estimate | Undefined;
  readonly negativePredictiveValue: Estimate | Undefined;
}

/** Predictive values over a range of prevalences, in the order given. */
export interface PredictiveValuesRange {
  readonly kind: "predictive-values-range";
  readonly n: number | null;
  /** The counts behind sensitivity and specificity; null where they came as rates. */
  readonly table: TwoByTwo | null;
  readonly level: number;
  readonly method: string;
  readonly points: readonly PredictiveValues[];
}

/** Sensitivity and specificity from a table, or as numbers or estimates made elsewhere. */
export type AccuracySource =
  | { readonly table: TwoByTwo; readonly sensitivity?: undefined; readonly specificity?: undefined }
  | {
      readonly table?: undefined;
      readonly sensitivity: number | Estimate | Undefined;
      readonly specificity: number | Estimate | Undefined;
    };

/**
 * Predictive values in another population, by Bayes' rule at a stated prevalence.
 *
 * From a `table` of independent rows: Mercaldo, Lau and Zhou 2007 on the logit scale, or the score
 * interval of the likelihood ratio (used, and named, when a cell is 0). From two estimates, such as
 * corrected ones: the extremes over both intervals, which is conservative; one that is undefined
 * passes its reason on. From plain numbers the limits equal the value and the method is "given". Sensitivity and specificity are taken to be the
 * same in the other population, which a change of age, severity or instrument breaks.
 *
 * Rates are proportions, 0 to 1.
 *
 * @param source `prevalence` is one number between 0 and 1, or several
 * @throws when a prevalence is not between 0 and 1, a count or share is invalid, or neither a table
 * nor both rates are given
 *
 * @example
 * predictiveValuesAt({ sensitivity: 0.9, specificity: 0.8, prevalence: 0.02 }).positivePredictiveValue.value // => 0.0841
 */
export function predictiveValuesAt(
  source: AccuracySource & { readonly prevalence: number },
  options?: { readonly level?: number; readonly interval?: PredictiveMethod },
): PredictiveValues;
export function predictiveValuesAt(
  source: AccuracySource & { readonly prevalence: ArrayLike<number> },
  options?: { readonly level?: number; readonly interval?: PredictiveMethod },
): PredictiveValuesRange;
export function predictiveValuesAt(
  source: AccuracySource & { readonly prevalence: number | ArrayLike<number> },
  options: { readonly level?: number; readonly interval?: PredictiveMethod } = {},
): PredictiveValues | PredictiveValuesRange {
  const { level = 0.95, interval = "logit" } = formerNames(caller, options, "interval");
  requireLevel(caller, level);
  requireWord(caller, "interval", ["logit", "score"], interval);
  const { prevalence } = source;
  const at = (share: number) => valuesAt(source, share, interval, level);
  if (typeof prevalence === "number") return at(prevalence);
  const points = Array.from(prevalence, at);
  return {
    kind: "predictive-values-range",
    n: sizeOf(source),
    table: source.table ?? null,
    level,
    method: usedMethod(source, interval),
    points,
  };
}

const caller = "predictiveValuesAt";

function valuesAt(
  source: AccuracySource,
  prevalence: number,
  method: PredictiveMethod,
  level: number,
): PredictiveValues {
  requireShare(caller, "prevalence", prevalence);
  const used = usedMethod(source, method);
  if (source.table !== undefined) {
    const table = requireTable(caller, source.table);
    return {
      kind: "predictive-values",
      n: sizeOf(source),
      prevalence,
      level,
      method: used,
      positivePredictiveValue: positivePredictiveAt(table, prevalence, method, level),
      negativePredictiveValue: negativePredictiveAt(table, prevalence, method, level),
    };
  }
  const missing = [source.sensitivity, source.specificity].find(isUndefined);
  if (missing !== undefined) {
    const none = undefinedBecause(missing.reason);
    const made = { kind: "predictive-values" as const, n: null, prevalence, level, method: used };
    return { ...made, positivePredictiveValue: none, negativePredictiveValue: none };
  }
  const sensitivity = rate("sensitivity", source.sensitivity);
  const specificity = rate("specificity", source.specificity);
  const positive = (se: number, sp: number) => share(prevalence * se, (1 - prevalence) * (1 - sp));
  const negative = (se: number, sp: number) => share((1 - prevalence) * sp, prevalence * (1 - se));
  const extremes = (value: (se: number, sp: number) => number | undefined, none: string) => {
    const point = value(sensitivity.value, specificity.value);
    const low = value(sensitivity.low, specificity.low);
    const high = value(sensitivity.high, specificity.high);
    if (point === undefined) return undefinedBecause(none);
    return {
      kind: "estimate" as const,
      value: point,
      low: low ?? 0,
      high: high ?? 1,
      level,
      method: used,
    };
  };
  return {
    kind: "predictive-values",
    n: null,
    prevalence,
    level,
    method: used,
    positivePredictiveValue: extremes(positive, "no positive test result is possible"),
    negativePredictiveValue: extremes(negative, "no negative test result is possible"),
  };
}

const share = (part: number, rest: number) => (part + rest > 0 ? part / (part + rest) : undefined);

function sizeOf({ table }: AccuracySource): number | null {
  if (table === undefined) return null;
  const { truePositive, falsePositive, falseNegative, trueNegative } = table;
  return truePositive + falsePositive + falseNegative + trueNegative;
}

function usedMethod(source: AccuracySource, method: PredictiveMethod): string {
  if (source.table !== undefined) return method;
  const given = typeof source.sensitivity === "number" && typeof source.specificity === "number";
  return given ? "given" : "extremes of both intervals";
}

const isUndefined = (rate: number | Estimate | Undefined): rate is Undefined =>
  typeof rate === "object" && rate.kind === "undefined";

function rate(name: string, source: number | Estimate | Undefined | undefined) {
  const { value, low, high } =
    typeof source === "object" ? source : { value: source, low: source, high: source };
  if (
    value === undefined ||
    low === undefined ||
    high === undefined ||
    !(value >= 0 && value <= 1)
  ) {
    throw new InputError(`${caller} requires a table, or ${name} from 0 to 1, got ${value}`);
  }
  return { value, low: Math.max(0, low), high: Math.min(1, high) };
}
