import { formerNames, type TwoByTwo } from "../results/index.js";
import { type CellRange, collectTables } from "./collectTables.js";
import { type NearMiss, nearestTables, type WithoutOne, withoutEach } from "./nearMisses.js";
import { type PrintedMeasure, shareCounts } from "./printedMeasures.js";
import { type PrintedSearch, type PrintedTwoByTwo, printedSearch } from "./printedSearch.js";
import { halvesAway, type PrintedShare, type PrintedUnit } from "./printedShare.js";
import type { ShareMeasure } from "./tableSearch.js";

export interface ReconstructOptions {
  /** Tables listed at the most, 1000 by default; `count` counts them all. */
  readonly most?: number;
}

/** Every table behind a printed one. */
export interface ReconstructedTable {
  readonly kind: "unique" | "several" | "none";
  readonly unit: PrintedUnit;
  /** The sizes looked through. */
  readonly n: CellRange;
  readonly printed: Readonly<Partial<Record<PrintedMeasure, string>>>;
  /** How many tables fit. */
  readonly count: number;
  /** The tables, in ascending order of n, cases and true positives; the first `most` of them. */
  readonly tables: readonly TwoByTwo[];
  /** What all have in common: the range of each cell over every table; undefined without one. */
  readonly common?: Readonly<Record<keyof TwoByTwo, CellRange>>;
  /** Tables of the list in which a share stands exactly between two printed numbers. */
  readonly ties: readonly {
    readonly table: TwoByTwo;
    readonly measures: readonly ShareMeasure[];
  }[];
  /** Without a table: those that come nearest, the worst digit first compared. */
  readonly nearest: readonly NearMiss[];
  /** Without a table: each printed number that, set aside, lets the others fit. */
  readonly withoutOne: readonly WithoutOne[];
}

const caller = "reconstructTwoByTwo";

/**
 * Every table of whole counts that prints as stated, after rounding to the printed decimals.
 *
 * Both sides of a rounding tie fit, and `ties` says which tables need one. Counts are searched by
 * ranges that each printed share leaves, not by trying all. Without a table, `nearest` misses by
 * the fewest half units of the last digit (empty where that would mean looking at more than ten million
 * counts), and `withoutOne` names the number that may be misprinted.
 * Likelihood ratios, odds ratio and Youden index narrow the tables down but do not guide the search.
 *
 * Shares of children who were not all examined come from no such table: see `correctVerification`.
 *
 * @throws when a printed number cannot be read or is no share, n is above 1,000,000, a
 * margin does not fit in n, intervals come without their method, or the printed numbers are so few
 * that more than 50,000,000 counts would be looked at
 *
 * @example
 * reconstructTwoByTwo({ n: 185, printed: { sensitivity: "100", specificity: "87.04", positivePredictiveValue: "52.27" } }).tables // => [{ truePositive: 23, falsePositive: 21, falseNegative: 0, trueNegative: 141 }]
 */
export function reconstructTwoByTwo(
  source: PrintedTwoByTwo,
  options: ReconstructOptions = {},
): ReconstructedTable {
  source = formerNames(caller, source, "printed");
  const { most = 1000 } = options;
  const search = printedSearch(caller, source);
  const found = collectTables(caller, search, 1, most);
  const kind = found.count === 0 ? "none" : found.count === 1 ? "unique" : "several";
  return {
    kind,
    unit: search.unit,
    n: { low: search.conditions.n.from, high: search.conditions.n.to },
    printed: { ...source.printed },
    count: found.count,
    tables: found.tables,
    ...(found.common ? { common: found.common } : {}),
    ties: found.tables.flatMap((table) => {
      const measures = tiedMeasures(search, table);
      return measures.length > 0 ? [{ table, measures }] : [];
    }),
    nearest: kind === "none" ? nearestTables(search) : [],
    withoutOne: kind === "none" ? withoutEach(source.printed, search) : [],
  };
}

function tiedMeasures({ conditions: { shares } }: PrintedSearch, table: TwoByTwo): ShareMeasure[] {
  return (Object.entries(shares) as [ShareMeasure, PrintedShare][])
    .filter(([measure, share]) => halvesAway(share, ...shareCounts[measure](table)) === 1)
    .map(([measure]) => measure);
}
