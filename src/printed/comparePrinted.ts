import { caution, InputError } from "../results/index.js";
import { comparedAccuracy } from "./comparedAccuracy.js";
import { comparedLimits } from "./comparedLimits.js";
import { comparedMean } from "./comparedMean.js";
import type { ComparedNumber, PrintedVerdict } from "./comparedNumber.js";
import { comparedProgramme } from "./comparedProgramme.js";
import { printedMeasures } from "./printedMeasures.js";
import type { PrintedRow } from "./readPrintedRows.js";

/** Numbers of a printed table beside what was computed again from them. */
export interface PrintedComparison {
  readonly kind: "printed-comparison";
  readonly rows: readonly ComparedNumber[];
  readonly reproduced: number;
  readonly notReproduced: number;
  readonly undecided: number;
  readonly caution: string;
}

/**
 * Every printed number of a table beside the one recomputed from the others, with the difference
 * and the likely cause.
 *
 * A row with `screened` or `examined` is a programme whose counts are known; one with `bias` holds
 * limits of agreement; one with `mean` a mean; any other the measures of a 2x2 table, found by
 * `reconstructTwoByTwo` unless its four cells are given, with `matchIntervalMethod` for its
 * intervals.
 *
 * @param printed rows of the printed table, as they stand in print
 * @throws when a row holds nothing that can be compared, or a cell cannot be read; the row is named
 *
 * @example
 * comparePrinted(readPrintedRows("label,n,sensitivity,specificity,positivePredictiveValue\nA,185,100,87.04,52.27")).reproduced // => 3
 */
export function comparePrinted(printed: readonly PrintedRow[]): PrintedComparison {
  const compared = printed.flatMap((row) => {
    try {
      return comparerOf(row)(row);
    } catch (error) {
      if (!(error instanceof InputError)) throw error;
      throw new InputError(`comparePrinted, row "${row.label}": ${error.message}`);
    }
  });
  // no difference of 1e-17 where binary fractions differ
  const rows = compared.map((one) => ({
    ...one,
    difference: one.difference === null ? null : Number(one.difference.toFixed(9)) + 0,
  }));
  const count = (verdict: PrintedVerdict) =>
    compared.filter((one) => one.verdict === verdict).length;
  return {
    kind: "printed-comparison",
    rows,
    reproduced: count("reproduced"),
    notReproduced: count("not reproduced"),
    undecided: count("undecided"),
    caution,
  };
}

function comparerOf({ cells }: PrintedRow): (row: PrintedRow) => ComparedNumber[] {
  if (cells.screened !== undefined || cells.examined !== undefined) return comparedProgramme;
  if (cells.bias !== undefined) return comparedLimits;
  if (cells.mean !== undefined) return comparedMean;
  if (printedMeasures.some((measure) => cells[measure] !== undefined)) return comparedAccuracy;
  throw new InputError(
    "requires a printed measure, bias, mean, or the counts of a programme, got none",
  );
}
