import type { TableModel } from "../results/index.js";
import type { PrintedComparison } from "./comparePrinted.js";

/**
 * A comparison as a table: printed, recomputed, difference, verdict and likely cause, a heading for
 * each paper or analysis.
 *
 * @example
 * printedComparisonTable(comparePrinted(readPrintedRows("label,n,bias,sd,limits\nA,150,-0.71,0.67,-2.02 to 0.60"))).rows[1].cells[0] // => "bias"
 */
export function printedComparisonTable(
  comparison: PrintedComparison,
  options: { readonly title?: string } = {},
): TableModel {
  const { title = "Printed numbers, recomputed" } = options;
  const labels = [...new Set(comparison.rows.map(({ label }) => label))];
  return {
    kind: "table",
    title,
    columns: [
      { label: "number", format: "text" },
      { label: "printed", format: "text" },
      { label: "recomputed", format: "text" },
      { label: "difference", format: "number" },
      { label: "verdict", format: "text" },
      { label: "how, or likely cause", format: "text" },
    ],
    rows: labels.flatMap((label) => [
      { cells: [label, null, null, null, null, null], heading: true },
      ...comparison.rows
        .filter((row) => row.label === label)
        .map(({ item, printed, recomputed, difference, verdict, cause }) => ({
          cells: [item, printed, recomputed ?? "none", difference, verdict, cause],
        })),
    ]),
    notes: [
      `${comparison.reproduced} printed numbers reproduced, ${comparison.notReproduced} not, ${comparison.undecided} undecided.`,
      "Difference: recomputed minus printed, in the printed unit. A recomputed number has one decimal more than the printed one where it shows how rounding stands.",
      comparison.caution,
    ],
  };
}
