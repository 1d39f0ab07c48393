import type { TwoByTwo } from "../results/index.js";
import { inOrder, ratiosFit, tablesWithin } from "./collectTables.js";
import { measureOf, type PrintedMeasure, shareCounts } from "./printedMeasures.js";
import type { PrintedSearch } from "./printedSearch.js";
import { halvesAway, type PrintedShare } from "./printedShare.js";
import type { ShareMeasure } from "./tableSearch.js";

/** A table that misses print by little. */
export interface NearMiss {
  readonly table: TwoByTwo;
  /** Measures that do not print as stated, with what the table gives. */
  readonly misses: readonly { readonly measure: PrintedMeasure; readonly value: number }[];
}

/** What fits once one printed number is set aside: the number that may be misprinted. */
export interface WithoutOne {
  readonly measure: PrintedMeasure;
  readonly printed: string;
  readonly count: number;
  /** Up to ten of the tables that fit all the others. */
  readonly tables: readonly TwoByTwo[];
  /** The measure in all of those tables; undefined where it is 0 of 0 in each. */
  readonly value?: { readonly low: number; readonly high: number };
}

/**
 * The tables within the fewest half units of the last digit, at most ten; none where too many counts would
 * have to be looked at.
 */
export function nearestTables(search: PrintedSearch): NearMiss[] {
  const wide = { ...search, intervals: undefined };
  const budget = { left: 1e7 };
  const within = (halves: number) => tablesWithin(wide, halves, 0, budget)?.count;
  let halves = 2;
  while (halves <= 4096 && within(halves) === 0) halves *= 2;
  if (halves > 4096 || budget.left < 0) return [];
  let under = halves / 2;
  while (halves - under > 1) {
    const middle = Math.floor((under + halves) / 2);
    const count = within(middle);
    if (count === undefined) break;
    if (count > 0) halves = middle;
    else under = middle;
  }
  return (tablesWithin(wide, halves, 100, { left: 1e7 })?.tables ?? [])
    .map((table) => ({ table, away: distance(search, table) }))
    .sort((one, other) => one.away - other.away || inOrder(one.table, other.table))
    .slice(0, 10)
    .map(({ table }) => ({ table, misses: missesOf(search, table) }));
}

/** How far every measure is from print, summed in half units of the last digit. */
function distance(search: PrintedSearch, table: TwoByTwo): number {
  return (Object.entries(search.conditions.shares) as [ShareMeasure, PrintedShare][])
    .map(([measure, share]) => halvesAway(share, ...shareCounts[measure](table)))
    .reduce((sum, away) => sum + away, 0);
}

function missesOf(search: PrintedSearch, table: TwoByTwo): NearMiss["misses"] {
  const missed = (measure: PrintedMeasure) => {
    const value = measureOf(table, measure);
    return value === undefined ? [] : [{ measure, value }];
  };
  return [
    ...(Object.entries(search.conditions.shares) as [ShareMeasure, PrintedShare][])
      .filter(([measure, share]) => halvesAway(share, ...shareCounts[measure](table)) > 1)
      .flatMap(([measure]) => missed(measure)),
    ...search.ratios
      .filter((ratio) => !ratiosFit({ ...search, ratios: [ratio] }, table, 1))
      .flatMap(({ measure }) => missed(measure)),
  ];
}

/** Sets each printed number aside in turn. */
export function withoutEach(
  printed: Readonly<Partial<Record<PrintedMeasure, string>>>,
  search: PrintedSearch,
): WithoutOne[] {
  const measures = Object.entries(printed) as [PrintedMeasure, string][];
  if (measures.length < 2) return [];
  return measures.flatMap(([measure, text]): WithoutOne[] => {
    const { [measure]: _, ...shares } = search.conditions.shares as Record<string, PrintedShare>;
    const others: PrintedSearch = {
      ...search,
      conditions: { ...search.conditions, shares },
      ratios: search.ratios.filter((ratio) => ratio.measure !== measure),
    };
    const found = tablesWithin(others, 1, 10_000, { left: 2e7 });
    if (found === null || found.count === 0) return [];
    const values = found.tables
      .map((table) => measureOf(table, measure))
      .filter((value): value is number => value !== undefined);
    return [
      {
        measure,
        printed: text,
        count: found.count,
        tables: found.tables.slice(0, 10),
        ...(values.length > 0 ? { value: { low: least(values), high: greatest(values) } } : {}),
      },
    ];
  });
}

const least = (values: readonly number[]) => values.reduce((a, b) => Math.min(a, b));
const greatest = (values: readonly number[]) => values.reduce((a, b) => Math.max(a, b));
