import type { TwoByTwo } from "../results/index.js";
import { InputError } from "../results/index.js";
import { comparedInterval } from "./comparedInterval.js";
import type { ComparedNumber } from "./comparedNumber.js";
import { printedScale } from "./intervalsFit.js";
import { countCell, rangeText } from "./printedCells.js";
import { type PrintedEstimate, printedEstimate } from "./printedInterval.js";
import {
  isShare,
  measureOf,
  type PrintedMeasure,
  printedMeasures,
  wordsOf,
} from "./printedMeasures.js";
import { asPrinted, type PrintedNumber, printedFit, printedNumber } from "./printedNumber.js";
import type { KnownCount } from "./printedSearch.js";
import { type PrintedUnit, requireUnit } from "./printedShare.js";
import type { PrintedRow } from "./readPrintedRows.js";
import { type ReconstructedTable, reconstructTwoByTwo } from "./reconstructTwoByTwo.js";

const cellNames = ["truePositive", "falsePositive", "falseNegative", "trueNegative"] as const;

interface PrintedCell extends PrintedEstimate {
  readonly measure: PrintedMeasure;
}

/** The measures of a 2x2 table, each recomputed from the counts that print allows. */
export function comparedAccuracy({ label, cells }: PrintedRow): ComparedNumber[] {
  const unit = requireUnit("", cells.unit);
  const printed = printedMeasures.flatMap((measure): PrintedCell[] => {
    const text = cells[measure];
    if (text === undefined) return [];
    return [{ measure, ...printedEstimate("comparePrinted", measure, text) }];
  });
  const given = givenTable(cells);
  if (given !== undefined) {
    return printed.flatMap((cell) => comparedWith(label, cell, [given], unit ?? "percent"));
  }
  const n = countCell(cells, "n");
  if (n === undefined) throw new InputError("requires n, or the four cells, got neither");
  const withCondition = countCell(cells, "withCondition");
  const testPositive = countCell(cells, "testPositive");
  const found = reconstructTwoByTwo(
    {
      n,
      ...(withCondition === undefined ? {} : { withCondition }),
      ...(testPositive === undefined ? {} : { testPositive }),
      printed: Object.fromEntries(printed.map(({ measure, value }) => [measure, value])),
      ...(unit === undefined ? {} : { unit }),
    },
    { most: 200 },
  );
  const rows = printed.flatMap((cell) =>
    found.kind === "none"
      ? withoutTable(label, cell, found, totalOf(cell.measure, { n, withCondition, testPositive }))
      : comparedWith(label, cell, found.tables, found.unit),
  );
  return [{ label, item: "2x2 table", printed: `n ${cells.n}`, ...tableFound(found) }, ...rows];
}

function givenTable(cells: PrintedRow["cells"]): TwoByTwo | undefined {
  const given = cellNames.filter((name) => cells[name] !== undefined);
  if (given.length === 0) return undefined;
  const counts = cellNames.map((name) => Number(cells[name]));
  if (!counts.every((count) => Number.isSafeInteger(count) && count >= 0)) {
    throw new InputError(
      `requires all four cells as whole numbers, got ${cellNames.map((name) => cells[name] ?? "none").join(", ")}`,
    );
  }
  return Object.fromEntries(
    cellNames.map((name, at) => [name, counts[at]!]),
  ) as unknown as TwoByTwo;
}

const tableText = (table: TwoByTwo) => cellNames.map((name) => table[name]).join("/");

function tableFound(
  found: ReconstructedTable,
): Pick<ComparedNumber, "recomputed" | "difference" | "verdict" | "cause"> {
  const order = "(true positive / false positive / false negative / true negative)";
  if (found.kind === "unique") {
    const tie = found.ties.length > 0 ? "; one number stands on a rounding tie" : "";
    return {
      recomputed: tableText(found.tables[0]!),
      difference: null,
      verdict: "derived",
      cause: `the only table that fits${tie} ${order}`,
    };
  }
  if (found.kind === "several") {
    const ranges = cellNames.map((name) => rangeText(found.common![name], String)).join(" / ");
    const ties = found.ties.length > 0 ? `; ${found.ties.length} on a rounding tie` : "";
    return {
      recomputed: ranges,
      difference: null,
      verdict: "undecided",
      cause: `${found.count} tables fit${ties} ${order}`,
    };
  }
  const near = found.nearest[0];
  return {
    recomputed: null,
    difference: null,
    verdict: "not reproduced",
    cause: near
      ? `no table fits; ${tableText(near.table)} comes nearest, missing ${near.misses.map(({ measure }) => wordsOf(measure)).join(", ")}`
      : "no table fits",
  };
}

/** A measure over the tables that fit, and its interval. */
function comparedWith(
  label: string,
  cell: PrintedCell,
  tables: readonly TwoByTwo[],
  unit: PrintedUnit,
): ComparedNumber[] {
  const { measure, value: text } = cell;
  const number = printedNumber("comparePrinted", measure, text);
  const scale = printedScale(measure, unit, [number]);
  const values = tables
    .map((table) => measureOf(table, measure))
    .filter((value): value is number => value !== undefined)
    .map((value) => value * scale);
  const rows: ComparedNumber[] = [
    { label, item: wordsOf(measure), printed: text, ...valueFound(values, number) },
  ];
  if (cell.interval !== undefined) {
    rows.push({
      label,
      item: `${wordsOf(measure)}, interval`,
      ...comparedInterval(tables, measure, cell.interval, unit),
    });
  }
  return rows;
}

function valueFound(
  values: readonly number[],
  number: PrintedNumber,
): Pick<ComparedNumber, "recomputed" | "difference" | "verdict" | "cause"> {
  if (values.length === 0) {
    return {
      recomputed: null,
      difference: null,
      verdict: "not reproduced",
      cause: "0 of 0 in this table",
    };
  }
  const low = values.reduce((a, b) => Math.min(a, b));
  const high = values.reduce((a, b) => Math.max(a, b));
  const nearest = values.reduce((a, b) =>
    Math.abs(b - number.value) < Math.abs(a - number.value) ? b : a,
  );
  const fit = printedFit(nearest, number);
  // one decimal more than printed, to show where rounding stands
  const finer = { decimals: number.decimals + 1 };
  return {
    recomputed: rangeText({ low, high }, (value) => asPrinted(value, finer)),
    difference: nearest - number.value,
    verdict: fit === "rounded" ? "reproduced" : "not reproduced",
    cause: fit === "truncated" ? "digits cut off instead of rounded" : "",
  };
}

/** The denominator of a share, where the margins that are known give it. */
function totalOf(
  measure: PrintedMeasure,
  known: Readonly<Record<"n" | "withCondition" | "testPositive", KnownCount | undefined>>,
): number | undefined {
  const { n, withCondition, testPositive } = known;
  if (typeof n !== "number") return undefined;
  const ofNumber = (count: KnownCount | undefined) =>
    typeof count === "number" ? count : undefined;
  const rest = (count: KnownCount | undefined) =>
    typeof count === "number" ? n - count : undefined;
  switch (measure) {
    case "sensitivity":
      return ofNumber(withCondition);
    case "specificity":
      return rest(withCondition);
    case "positivePredictiveValue":
      return ofNumber(testPositive);
    case "negativePredictiveValue":
      return rest(testPositive);
    default:
      return isShare(measure) ? n : undefined;
  }
}

/** The two shares of a total that stand about a printed one which none gives. */
function noneOf(
  label: string,
  { measure, value: text }: PrintedCell,
  number: PrintedNumber,
  scale: number,
  total: number,
): ComparedNumber | undefined {
  if (total === 0) return undefined;
  const below = Math.floor((number.value / scale) * total);
  const shares = [below, below + 1]
    .filter((part) => part <= total)
    .map((part) => (scale * part) / total);
  if (shares.some((share) => printedFit(share, number) === "rounded")) return undefined;
  return {
    label,
    item: wordsOf(measure),
    printed: text,
    recomputed: shares.map((share) => asPrinted(share, number)).join(" or "),
    difference: null,
    verdict: "not reproduced",
    cause: `no count of ${total} prints as ${text}: ${below} gives the number below${shares.length > 1 ? ", one more the number above" : ""}`,
  };
}

function withoutTable(
  label: string,
  cell: PrintedCell,
  found: ReconstructedTable,
  total: number | undefined,
): ComparedNumber[] {
  const { measure, value: text } = cell;
  const aside = found.withoutOne.find((one) => one.measure === measure);
  const number = printedNumber("comparePrinted", measure, text);
  const scale = printedScale(measure, found.unit, [number]);
  const shown = (value: number) => asPrinted(value * scale, number);
  const impossible = total === undefined ? undefined : noneOf(label, cell, number, scale, total);
  if (impossible) return [impossible];
  const row = { label, item: wordsOf(measure), printed: text, difference: null };
  if (aside?.value === undefined) {
    return [{ ...row, recomputed: null, verdict: "undecided", cause: "no table fits all" }];
  }
  const tables = aside.count === 1 ? "one table fits" : `${aside.count} tables fit`;
  const read = new Set(aside.tables.map((table) => shown(measureOf(table, measure) ?? Number.NaN)));
  // as many tables as are listed, and one number in them all, or a few: the others decide it
  const decided = aside.count <= aside.tables.length && read.size <= 3;
  return [
    {
      ...row,
      recomputed: decided ? [...read].join(" or ") : null,
      verdict: "undecided",
      cause: decided
        ? `set aside, ${tables} the other numbers, and this one would read ${[...read].join(" or ")}`
        : `set aside, ${tables} the other numbers, which leave this one open`,
    },
  ];
}
