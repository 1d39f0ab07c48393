import { requireTable } from "../accuracy/index.js";
import { requireLevel } from "../inference/index.js";
import { InputError, type TwoByTwo, type Undefined, undefinedBecause } from "../results/index.js";
import { type IntervalMethod, intervalMethodsOf } from "./intervalMethods.js";
import { printedScale } from "./intervalsFit.js";
import { printedLimits } from "./printedInterval.js";
import { measureOf, type PrintedMeasure, printedMeasures } from "./printedMeasures.js";
import { type PrintedFit, type PrintedNumber, printedFit } from "./printedNumber.js";
import { type PrintedUnit, requireUnit } from "./printedShare.js";

/** An interval that was tried. */
export interface TriedInterval {
  readonly method: IntervalMethod;
  readonly level: number;
  /** As shares, or plain for ratios. */
  readonly low: number;
  readonly high: number;
  /**
   * "rounded": both limits round to the printed digits; "truncated": they do when digits are cut off
   * instead of rounded; "one-off": a last digit differs by one; "none": more than that.
   */
  readonly fit: PrintedFit;
}

/** Which methods of an interval print as the printed one does. */
export interface IntervalMatch {
  readonly kind: "interval-match";
  readonly measure: PrintedMeasure;
  /** Rows of the table. */
  readonly n: number;
  /** Of the printed limits; ratios have none. */
  readonly unit: PrintedUnit | "ratio";
  /** The measure in this table. */
  readonly value: number | Undefined;
  readonly printed: { readonly low: string; readonly high: string };
  /** Methods whose limits round to the printed digits, in the order of `levels`. */
  readonly matches: readonly TriedInterval[];
  /** Methods that print so only when further digits are cut off instead of rounded. */
  readonly truncated: readonly TriedInterval[];
  /** All others, the closest first. */
  readonly nearest: readonly TriedInterval[];
}

const caller = "matchIntervalMethod";

/**
 * Which method, at which level, gives a printed interval.
 *
 * Every method that the toolkit knows is tried on the whole table: for shares Clopper and Pearson,
 * Wilson with and without continuity correction, Agresti and Coull, Jeffreys, Wald, logit, and the
 * scale of the logarithm cut at 1; for predictive values also Mercaldo, Lau and Zhou 2007 with
 * the table's own prevalence; for ratios the score and log intervals; for the Youden index
 * square-and-add and Wald. Several may print the same digits. Levels 0.95, 0.90 and 0.99 unless
 * `levels` says others.
 *
 * @throws when a count, a limit or a level cannot be, or no printed limit is above 1 and `unit` is
 * not stated
 *
 * @example
 * matchIntervalMethod({ table: { truePositive: 23, falsePositive: 21, falseNegative: 0, trueNegative: 141 }, measure: "positivePredictiveValue", printed: { low: "42.36", high: "62.01" } }).matches[0].method // => "mercaldo-logit"
 */
export function matchIntervalMethod(
  source: {
    readonly table: TwoByTwo;
    readonly measure: PrintedMeasure;
    readonly printed: { readonly low: string; readonly high: string };
    readonly unit?: PrintedUnit;
  },
  options: { readonly levels?: readonly number[] } = {},
): IntervalMatch {
  const { measure, printed } = source;
  const { levels = [0.95, 0.9, 0.99] } = options;
  const table = requireTable(caller, source.table);
  if (!printedMeasures.includes(measure)) {
    throw new InputError(
      `${caller} requires measure ${printedMeasures.join(", ")}, got ${measure}`,
    );
  }
  for (const level of levels) requireLevel(caller, level);
  const { low, high } = printedLimits(caller, printed);
  const unit = unitOf(source.unit, measure, [low, high]);
  const scale = printedScale(measure, unit, [low, high]);
  const value = measureOf(table, measure);
  const tried: (TriedInterval & { away: number })[] = [];
  if (value !== undefined) {
    for (const level of levels) {
      for (const [method, interval] of intervalMethodsOf(measure)) {
        const limits = interval(table, level);
        if (limits === undefined) continue;
        const fits = [printedFit(limits.low * scale, low), printedFit(limits.high * scale, high)];
        const away = Math.max(
          unitsAway(limits.low * scale, low),
          unitsAway(limits.high * scale, high),
        );
        tried.push({ method, level, ...limits, fit: worst(fits), away });
      }
    }
  }
  const fitting = (wanted: PrintedFit) => tried.filter(({ fit }) => fit === wanted).map(shown);
  const others = tried.filter(({ fit }) => fit === "one-off" || fit === "none");
  return {
    kind: "interval-match",
    measure,
    n: table.truePositive + table.falsePositive + table.falseNegative + table.trueNegative,
    unit: scale === 100 ? "percent" : printedScale(measure, "percent", []) === 1 ? "ratio" : unit,
    value: value ?? undefinedBecause("the measure is 0 of 0 in this table"),
    printed: { low: printed.low, high: printed.high },
    matches: fitting("rounded"),
    truncated: fitting("truncated"),
    nearest: others.sort((one, other) => one.away - other.away).map(shown),
  };
}

function unitOf(
  unit: PrintedUnit | undefined,
  measure: PrintedMeasure,
  limits: readonly PrintedNumber[],
): PrintedUnit {
  const stated = requireUnit(caller, unit);
  if (stated !== undefined) return stated;
  const needed = printedScale(measure, "percent", []) === 100;
  if (needed && limits.every((limit) => Math.abs(limit.value) <= 1 && !limit.percentSign)) {
    throw new InputError(
      `${caller} requires unit: "percent" or "proportion" when no printed limit is above 1, got ${limits.map(({ text }) => text).join(" and ")}`,
    );
  }
  return "percent";
}

const fitOrder: readonly PrintedFit[] = ["rounded", "truncated", "one-off", "none"];

const worst = (fits: readonly PrintedFit[]): PrintedFit =>
  fitOrder[Math.max(...fits.map((fit) => fitOrder.indexOf(fit)))]!;

const unitsAway = (value: number, { units, decimals }: PrintedNumber): number =>
  Math.abs(value * 10 ** decimals - units);

const shown = ({ method, level, low, high, fit }: TriedInterval): TriedInterval => ({
  method,
  level,
  low,
  high,
  fit,
});
