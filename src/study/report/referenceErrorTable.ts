import { type TableModel, undefinedBecause } from "../../results/index.js";
import { quantityText } from "../../rows/index.js";
import type { ConditionResult } from "../run/studyResult.js";
import { count, text } from "./tableParts.js";

/** The headline beside what it would be against an exam without error; nothing where none is declared. */
export function referenceErrorTable({ title, referenceError }: ConditionResult): TableModel | null {
  if (referenceError === undefined) return null;
  const heading = `If the exam errs (sensitivity analysis): ${title}`;
  const columns = [
    text("Reference"),
    { label: "Sensitivity", format: "percent" },
    { label: "Specificity", format: "percent" },
    count("Within one such SD of the limit"),
  ] as const;
  if (referenceError.kind === "undefined") {
    const none = undefinedBecause(referenceError.reason);
    return {
      kind: "table",
      title: heading,
      columns,
      rows: [{ cells: ["Without the exam's error", none, none, null] }],
      notes: ["The protocol declares an error of the exam; what it does was not estimated."],
    };
  }
  const { observed, rows, step, notes } = referenceError;
  return {
    kind: "table",
    title: heading,
    columns,
    rows: [
      { cells: ["As it is (the headline)", observed.sensitivity, observed.specificity, null] },
      ...rows.map(({ errorSd, sensitivity, specificity, nearLimit }) => ({
        cells: [
          `Without its error of SD ${quantityText(errorSd)}`,
          sensitivity,
          specificity,
          nearLimit,
        ],
      })),
    ],
    notes: [
      ...notes,
      "Simulation and extrapolation (Cook and Stefanski 1994); the exam's values are taken " +
        (step === 0 ? "as not rounded." : `as rounded to ${step} D.`),
    ],
  };
}
