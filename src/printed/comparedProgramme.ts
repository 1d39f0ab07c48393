import { InputError } from "../results/index.js";
import { comparedInterval } from "./comparedInterval.js";
import type { ComparedNumber } from "./comparedNumber.js";
import { wholeCell } from "./printedCells.js";
import { printedEstimate } from "./printedInterval.js";
import { wordsOf } from "./printedMeasures.js";
import { asPrinted, printedFit, printedNumber } from "./printedNumber.js";
import { type PrintedUnit, requireUnit } from "./printedShare.js";
import type { PrintedRow } from "./readPrintedRows.js";

/** The shares of a programme: which count of which. */
const shares = {
  referralRate: ["referred", "screened"],
  attendance: ["examined", "referred"],
  positivePredictiveValue: ["withCondition", "examined"],
  foundOfScreened: ["withCondition", "screened"],
} as const;

/**
 * What a programme prints, from its counts; and the bounds of its positive predictive value over
 * all referred, when some were not examined: none of them with the condition, or all.
 */
export function comparedProgramme({ label, cells }: PrintedRow): ComparedNumber[] {
  const unit = requireUnit("", cells.unit) ?? "percent";
  const counts = {
    screened: wholeCell(cells, "screened"),
    referred: wholeCell(cells, "referred"),
    examined: wholeCell(cells, "examined"),
    withCondition: wholeCell(cells, "withCondition"),
  };
  const rows = Object.entries(shares).flatMap(([item, [part, total]]) => {
    const text = cells[item];
    if (text === undefined) return [];
    const [a, b] = [counts[part], counts[total]];
    if (a === undefined || b === undefined || b === 0 || a > b) {
      throw new InputError(`requires ${part} within ${total} for ${item}, got ${a} of ${b}`);
    }
    return comparedShare(label, item, text, a, b, unit);
  });
  const { referred, examined, withCondition } = counts;
  if (
    referred !== undefined &&
    examined !== undefined &&
    withCondition !== undefined &&
    withCondition <= examined &&
    examined < referred
  ) {
    const scale = unit === "percent" ? 100 : 1;
    const decimals = { decimals: unit === "percent" ? 1 : 3 };
    const shown = (count: number) => asPrinted((scale * count) / referred, decimals);
    rows.push({
      label,
      item: "positive predictive value, bounds",
      printed: "",
      recomputed: `${shown(withCondition)} to ${shown(withCondition + referred - examined)}`,
      difference: null,
      verdict: "derived",
      cause: `${referred - examined} referred children were not examined: none or all of them with the condition`,
    });
  }
  if (rows.length === 0) {
    throw new InputError(`requires a printed ${Object.keys(shares).join(", ")}, got none`);
  }
  return rows;
}

function comparedShare(
  label: string,
  item: string,
  text: string,
  part: number,
  total: number,
  unit: PrintedUnit,
): ComparedNumber[] {
  const { value: printed, interval } = printedEstimate("comparePrinted", item, text);
  const number = printedNumber("comparePrinted", item, printed);
  const scale = unit === "percent" || number.percentSign ? 100 : 1;
  const value = (scale * part) / total;
  const fit = printedFit(value, number);
  const row: ComparedNumber = {
    label,
    item: wordsOf(item),
    printed,
    recomputed: asPrinted(value, { decimals: number.decimals + 1 }),
    difference: value - number.value,
    verdict: fit === "rounded" ? "reproduced" : "not reproduced",
    cause: `${part} of ${total}${fit === "truncated" ? ", digits cut off instead of rounded" : ""}`,
  };
  if (interval === undefined) return [row];
  // a share of counts, whatever its name: the intervals of a table with these two cells
  const table = {
    truePositive: part,
    falsePositive: total - part,
    falseNegative: 0,
    trueNegative: 0,
  };
  return [
    row,
    {
      label,
      item: `${wordsOf(item)}, interval`,
      ...comparedInterval([table], "positivePredictiveValue", interval, unit),
    },
  ];
}
