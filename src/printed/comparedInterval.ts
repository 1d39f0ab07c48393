import type { TwoByTwo } from "../results/index.js";
import type { ComparedNumber } from "./comparedNumber.js";
import { printedScale } from "./intervalsFit.js";
import { matchIntervalMethod, type TriedInterval } from "./matchIntervalMethod.js";
import type { PrintedMeasure } from "./printedMeasures.js";
import { asPrinted, printedNumber } from "./printedNumber.js";
import type { PrintedUnit } from "./printedShare.js";

/** Which methods print an interval, over all tables that may be behind it. */
export function comparedInterval(
  tables: readonly TwoByTwo[],
  measure: PrintedMeasure,
  printed: { readonly low: string; readonly high: string },
  unit: PrintedUnit,
): Pick<ComparedNumber, "printed" | "recomputed" | "difference" | "verdict" | "cause"> {
  const tried = tables.map((table) => matchIntervalMethod({ table, measure, printed, unit }));
  const rounded = tried.flatMap((match) => match.matches);
  const matches = rounded.length > 0 ? rounded : tried.flatMap((match) => match.truncated);
  const best = matches[0] ?? tried[0]!.nearest[0];
  const text = `${printed.low} to ${printed.high}`;
  if (best === undefined) {
    return {
      printed: text,
      recomputed: null,
      difference: null,
      verdict: "not reproduced",
      cause: "no method has an interval here",
    };
  }
  const low = printedNumber("comparePrinted", "low", printed.low);
  const high = printedNumber("comparePrinted", "high", printed.high);
  const scale = printedScale(measure, unit, [low, high]);
  const differences = [best.low * scale - low.value, best.high * scale - high.value];
  return {
    printed: text,
    recomputed: `${asPrinted(best.low * scale, low)} to ${asPrinted(best.high * scale, high)}`,
    difference:
      Math.abs(differences[0]!) > Math.abs(differences[1]!) ? differences[0]! : differences[1]!,
    verdict:
      rounded.length > 0 ? "reproduced" : matches.length > 0 ? "undecided" : "not reproduced",
    cause:
      rounded.length > 0
        ? matched(rounded, tried.filter((match) => match.matches.length > 0).length, tables.length)
        : matches.length > 0
          ? `only with digits cut off: ${names(matches)}`
          : `no method gives these limits; ${named(best)} comes nearest`,
  };
}

function matched(matches: readonly TriedInterval[], fitting: number, tables: number): string {
  return fitting === tables
    ? names(matches)
    : `${names(matches)}, in ${fitting} of ${tables} tables`;
}

/** The methods of the first level that has any. */
function names(matches: readonly TriedInterval[]): string {
  const { level } = matches[0]!;
  return [...new Set(matches.filter((match) => match.level === level).map(named))].join(", ");
}

const named = ({ method, level }: TriedInterval): string =>
  level === 0.95 ? method : `${method} at ${level}`;
