import { mean, sampleStandardDeviation } from "simple-statistics";
import { type Cohort, eyePairs } from "../cohort/index.js";
import { tQuantile } from "../inference/index.js";
import { InputError } from "../results/index.js";
import { printedPair } from "./printedCells.js";
import {
  basicChoices,
  type PrintedChoice,
  type ReproduceOptions,
  requireSome,
} from "./printedChoices.js";
import { printedEstimate } from "./printedInterval.js";
import type { PrintedRow } from "./readPrintedRows.js";

/** One way to compute a row's numbers, with what it gives: by item, what is printed and what came. */
export interface TriedChoice {
  readonly choice: PrintedChoice;
  readonly n: number;
  readonly numbers: readonly TriedNumber[];
}

/** One printed number, or the two of a pair, beside what a choice gives; null where it gives none. */
export interface TriedNumber {
  readonly item: string;
  readonly printed: readonly string[];
  readonly values: readonly (number | null)[];
}

const items = ["n", "bias", "mean", "sd", "se", "limits", "interval"] as const;

/** Numbers of agreement, or of a mean difference, by every choice; rows are taken as independent, as print does. */
export function reproducedAgreement(
  cohort: Cohort,
  { cells }: PrintedRow,
  options: ReproduceOptions,
): TriedChoice[] {
  const printed = items.flatMap((item) => {
    const text = cells[item];
    return text === undefined ? [] : [{ item, printed: partsOf(item, text) }];
  });
  const signed = ["bias", "mean", "limits", "interval"].some((item) => cells[item] !== undefined);
  const { direction = "either", quantity = "M" } = options;
  const directions = !signed
    ? [undefined]
    : direction === "either"
      ? (["test-minus-reference", "reference-minus-test"] as const)
      : [direction];
  const multipliers =
    cells.limits === undefined
      ? [undefined]
      : requireSome("multipliers", options.multipliers ?? [1.96, 2]);
  return basicChoices(cohort, options, ["both", "right", "left"]).flatMap(
    ({ eyes, equivalent }) => {
      if (eyes === "worse") {
        throw new InputError(
          'requires eyes "both", "right" or "left" for differences, got "worse"',
        );
      }
      const pairs = eyePairs(cohort, { eyes, quantity, referenceEquivalent: equivalent });
      const differences = Array.from(pairs.test, (value, row) => value - pairs.reference[row]);
      return directions.flatMap((along) =>
        multipliers.map((multiplier): TriedChoice => {
          const values = valuesOf(
            differences,
            along === "reference-minus-test" ? -1 : 1,
            multiplier ?? 0,
          );
          return {
            choice: {
              eyes,
              equivalent,
              ...(along === undefined ? {} : { direction: along }),
              ...(multiplier === undefined ? {} : { multiplier }),
            },
            n: pairs.n,
            numbers: printed.map((one) => ({ ...one, values: values[one.item] })),
          };
        }),
      );
    },
  );
}

function valuesOf(
  differences: number[],
  sign: 1 | -1,
  multiplier: number,
): Record<(typeof items)[number], (number | null)[]> {
  const n = differences.length;
  const bias = n === 0 ? null : sign * mean(differences);
  const sd = n < 2 ? null : sampleStandardDeviation(differences);
  const se = sd === null ? null : sd / Math.sqrt(n);
  const about = (reach: number) =>
    bias === null || sd === null ? [null, null] : [bias - reach, bias + reach];
  return {
    n: [n],
    bias: [bias],
    mean: [bias],
    sd: [sd],
    se: [se],
    limits: about(multiplier * (sd ?? 0)),
    // by Student's t, as an interval of a mean is made
    interval: about(n < 2 ? 0 : tQuantile(0.975, n - 1) * (se ?? 0)),
  };
}

function partsOf(item: (typeof items)[number], text: string): string[] {
  if (item !== "limits" && item !== "interval") {
    return [printedEstimate("", item, text).value];
  }
  const { low, high } = printedPair(item, text);
  return [low, high];
}
