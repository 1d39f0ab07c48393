import { crossClassify } from "../accuracy/index.js";
import { type Cohort, childValues, eyePairs } from "../cohort/index.js";
import { InputError, type TwoByTwo } from "../results/index.js";
import { directionOf, type Limit, limitAt, meets } from "../rows/index.js";
import { printedScale } from "./intervalsFit.js";
import { basicChoices, type PrintedChoice, type ReproduceOptions } from "./printedChoices.js";
import { printedEstimate } from "./printedInterval.js";
import { measureOf, type PrintedMeasure, printedMeasures } from "./printedMeasures.js";
import { printedNumber } from "./printedNumber.js";
import { requireUnit } from "./printedShare.js";
import type { PrintedRow } from "./readPrintedRows.js";
import type { TriedChoice, TriedNumber } from "./reproducedAgreement.js";

const counts: Readonly<Record<string, (table: TwoByTwo) => number>> = {
  n: (t) => t.truePositive + t.falsePositive + t.falseNegative + t.trueNegative,
  withCondition: (t) => t.truePositive + t.falseNegative,
  testPositive: (t) => t.truePositive + t.falsePositive,
  truePositive: (t) => t.truePositive,
  falsePositive: (t) => t.falsePositive,
  falseNegative: (t) => t.falseNegative,
  trueNegative: (t) => t.trueNegative,
};

/** Measures and counts of a 2x2 table by every choice; rows without a reading or a finding are left out. */
export function reproducedAccuracy(
  cohort: Cohort,
  { cells }: PrintedRow,
  options: ReproduceOptions,
): TriedChoice[] {
  const { referWhen, target, quantity = "M" } = options;
  if (referWhen === undefined || target === undefined) {
    throw new InputError(
      'requires referWhen and target for measures of a 2x2 table, such as { relation: "<=", limit: -3 }, got none',
    );
  }
  const worseWhen = directionOf(target);
  return basicChoices(cohort, options, ["both", "right", "left", "worse"]).flatMap(
    ({ eyes, equivalent }) => {
      const asked = { quantity, referenceEquivalent: equivalent };
      const { test, reference } =
        eyes === "worse"
          ? childValues(cohort, { eye: "worse", worseWhen, ...asked })
          : eyePairs(cohort, { eyes, ...asked });
      return (["meets", "does not meet"] as const).map((atLimit): TriedChoice => {
        const yes = (values: Float64Array, limit: Limit) =>
          Array.from(values, (value) =>
            meets(
              value,
              limitAt(limit.limit, directionOf(limit), { strict: atLimit === "does not meet" }),
            ),
          );
        const table = crossClassify({
          test: yes(test, referWhen),
          reference: yes(reference, target),
        });
        const choice: PrintedChoice = { eyes, equivalent, atLimit };
        return { choice, n: test.length, numbers: numbersOf(cells, table) };
      });
    },
  );
}

function numbersOf(cells: PrintedRow["cells"], table: TwoByTwo): TriedNumber[] {
  const unit = requireUnit("", cells.unit) ?? "percent";
  const known = Object.entries(counts).flatMap(([item, count]): TriedNumber[] => {
    const text = cells[item];
    return text === undefined ? [] : [{ item, printed: [text], values: [count(table)] }];
  });
  const measured = printedMeasures.flatMap((measure: PrintedMeasure): TriedNumber[] => {
    const text = cells[measure];
    if (text === undefined) return [];
    const { value } = printedEstimate("", measure, text);
    const found = measureOf(table, measure);
    const scale = printedScale(measure, unit, [printedNumber("", measure, value)]);
    return [
      { item: measure, printed: [value], values: [found === undefined ? null : found * scale] },
    ];
  });
  return [...known, ...measured];
}
