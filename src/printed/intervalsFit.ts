import { InputError, type TwoByTwo } from "../results/index.js";
import { type IntervalMethod, intervalMethodsOf } from "./intervalMethods.js";
import { printedLimits } from "./printedInterval.js";
import { isShare, type PrintedMeasure, printedMeasures } from "./printedMeasures.js";
import { type PrintedNumber, printedFit } from "./printedNumber.js";
import type { PrintedUnit } from "./printedShare.js";

/** Printed intervals by measure, as strings. */
export type PrintedIntervals = Readonly<
  Partial<Record<PrintedMeasure, { readonly low: string; readonly high: string }>>
>;

/** Factor from a measure to its printed number. */
export function printedScale(
  measure: PrintedMeasure,
  unit: PrintedUnit,
  numbers: readonly PrintedNumber[],
): number {
  const share = isShare(measure) || measure === "youdenIndex";
  return share && (unit === "percent" || numbers.some((n) => n.percentSign)) ? 100 : 1;
}

/** Does a table reproduce every printed interval by one method, at level 0.95? */
export function intervalsFit(
  caller: string,
  intervals: PrintedIntervals,
  method: IntervalMethod,
  unit: PrintedUnit,
): (table: TwoByTwo) => boolean {
  const checks = Object.entries(intervals).map(([name, printed]) => {
    const measure = name as PrintedMeasure;
    if (!printedMeasures.includes(measure)) {
      throw new InputError(
        `${caller} requires intervals of ${printedMeasures.join(", ")}, got ${name}`,
      );
    }
    const methods = intervalMethodsOf(measure);
    const interval = methods.get(method);
    if (interval === undefined) {
      throw new InputError(
        `${caller} requires interval for ${measure} among ${[...methods.keys()].join(", ")}, got ${method}`,
      );
    }
    const { low, high } = printedLimits(caller, printed);
    const scale = printedScale(measure, unit, [low, high]);
    return (table: TwoByTwo) => {
      const limits = interval(table, 0.95);
      return (
        limits !== undefined &&
        printedFit(limits.low * scale, low) === "rounded" &&
        printedFit(limits.high * scale, high) === "rounded"
      );
    };
  });
  return (table) => checks.every((check) => check(table));
}
