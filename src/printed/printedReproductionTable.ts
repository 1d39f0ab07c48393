import type { TableModel } from "../results/index.js";
import type { PrintedReproduction } from "./reproducePrinted.js";

/**
 * A result of `reproducePrinted` as a table: under each printed row the choice that reproduces most of it, then
 * every printed number beside its own.
 *
 * @example
 * const eye = { subject: "a", eye: "OD", sphere: -1, cylinder: -0.5, axis: 180 };
 * const cohort = linkCohort({ readings: await readReadings([eye]), findings: await readFindings([eye]) });
 * printedReproductionTable(reproducePrinted(cohort, readPrintedRows("label,n,bias\nA,1,0.00"))).rows[1].cells[0] // => "n"
 */
export function printedReproductionTable(
  { choices, rows, reproduced, notReproduced, caution }: PrintedReproduction,
  options: { readonly title?: string } = {},
): TableModel {
  const { title = "Printed numbers beside one's own" } = options;
  return {
    kind: "table",
    title,
    columns: [
      { label: "number", format: "text" },
      { label: "printed", format: "text" },
      { label: "own data", format: "text" },
      { label: "difference", format: "number" },
      { label: "verdict", format: "text" },
      { label: "which choices give it", format: "text" },
    ],
    rows: choices.flatMap(({ label, words }) => [
      { cells: [`${label}: ${words}`, null, null, null, null, null], heading: true },
      ...rows
        .filter((row) => row.label === label)
        .map(({ item, printed, recomputed, difference, verdict, cause }) => ({
          cells: [item, printed, recomputed ?? "none", difference, verdict, cause],
        })),
    ]),
    notes: [
      `${reproduced} printed numbers reproduced, ${notReproduced} not. Difference: own minus printed. Own numbers have one decimal more where it shows how rounding stands.`,
      ...choices
        .filter(({ equallyGood }) => equallyGood.length > 0)
        .map(
          ({ label, equallyGood }) =>
            `${label}: as many numbers are reproduced by ${equallyGood.join("; by ")}.`,
        ),
      ...choices
        .filter(({ aside }) => aside.length > 0)
        .map(({ label, aside }) => `${label}: not compared: ${aside.join(", ")}.`),
      caution,
    ],
  };
}
