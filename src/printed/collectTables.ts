import { InputError, type TwoByTwo } from "../results/index.js";
import { measureOf } from "./printedMeasures.js";
import type { PrintedSearch } from "./printedSearch.js";
import { searchSteps, searchTables } from "./tableSearch.js";

/** The least and the greatest a cell can be. */
export interface CellRange {
  readonly low: number;
  readonly high: number;
}

/** The tables found. */
interface CollectedTables {
  readonly count: number;
  readonly tables: readonly TwoByTwo[];
  readonly common: Readonly<Record<keyof TwoByTwo, CellRange>> | undefined;
}

const cells = ["truePositive", "falsePositive", "falseNegative", "trueNegative"] as const;

/** Counts that a search looks at before it asks for more printed numbers. */
const mostLooked = 5e7;

/**
 * Every table within so many half units of the last digit; the first `most` are kept.
 *
 * @throws InputError where the printed numbers leave more counts than can be looked at
 */
export function collectTables(
  caller: string,
  search: PrintedSearch,
  halves: number,
  most: number,
): CollectedTables {
  const found = tablesWithin(search, halves, most, { left: mostLooked });
  if (found !== null) return found;
  const steps = searchSteps(search.conditions, halves);
  throw new InputError(
    `${caller} requires more printed numbers, withCondition or testPositive: these leave about ${Math.max(steps, mostLooked).toExponential(0)} counts to look at, got ${Object.keys(search.conditions.shares).join(", ") || "no share"}`,
  );
}

/** As `collectTables`; null where more counts than are left would have to be looked at. */
export function tablesWithin(
  search: PrintedSearch,
  halves: number,
  most: number,
  budget: { left: number },
): CollectedTables | null {
  budget.left -= searchSteps(search.conditions, halves);
  if (budget.left < 0) return null;
  const tables: TwoByTwo[] = [];
  const low = [Infinity, Infinity, Infinity, Infinity];
  const high = [-Infinity, -Infinity, -Infinity, -Infinity];
  let count = 0;
  const widen = (table: TwoByTwo) => {
    for (let at = 0; at < 4; at += 1) {
      const count = table[cells[at]!];
      if (count < low[at]!) low[at] = count;
      if (count > high[at]!) high[at] = count;
    }
  };
  const filtered = search.ratios.length > 0 || search.intervals !== undefined;
  searchTables(search.conditions, halves, (length, table) => {
    if (!filtered) {
      count += length;
      widen(table(0));
      if (length > 1) widen(table(length - 1));
      for (let index = 0; index < length && tables.length < most; index += 1) {
        tables.push(table(index));
      }
      return;
    }
    // ratios and intervals are looked up table by table, of which a run may hold many
    budget.left -= length;
    if (budget.left < 0) return;
    for (let index = 0; index < length; index += 1) {
      const one = table(index);
      if (!ratiosFit(search, one, halves) || search.intervals?.(one) === false) continue;
      count += 1;
      widen(one);
      if (tables.length < most) tables.push(one);
    }
  });
  if (budget.left < 0) return null;
  tables.sort(inOrder);
  const range = (at: number) => ({ low: low[at]!, high: high[at]! });
  return {
    count,
    tables,
    common:
      count === 0
        ? undefined
        : {
            truePositive: range(0),
            falsePositive: range(1),
            falseNegative: range(2),
            trueNegative: range(3),
          },
  };
}

/** Do the measures that are no shares print as stated? */
export function ratiosFit({ ratios }: PrintedSearch, table: TwoByTwo, halves: number): boolean {
  return ratios.every(({ measure, number, scale }) => {
    const value = measureOf(table, measure);
    if (value === undefined) return false;
    const exact = value * scale * 10 ** number.decimals;
    return 2 * Math.abs(exact - number.units) <= halves * (1 + 1e-9) + 1e-12 * Math.abs(exact);
  });
}

/** Ascending n, then cases, true and false positives. */
export function inOrder(one: TwoByTwo, other: TwoByTwo): number {
  const size = (t: TwoByTwo) => t.truePositive + t.falsePositive + t.falseNegative + t.trueNegative;
  return (
    size(one) - size(other) ||
    one.truePositive + one.falseNegative - other.truePositive - other.falseNegative ||
    one.truePositive - other.truePositive ||
    one.falsePositive - other.falsePositive
  );
}
