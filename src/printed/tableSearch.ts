import type { TwoByTwo } from "../results/index.js";
import {
  type Counts,
  complement,
  none,
  overlap,
  type PrintedShare,
  partsBeside,
  partsOf,
  totalsOf,
} from "./printedShare.js";

/** Shares of counts that a 2x2 table gives. */
export type ShareMeasure =
  | "sensitivity"
  | "specificity"
  | "positivePredictiveValue"
  | "negativePredictiveValue"
  | "prevalence"
  | "referralRate"
  | "overallAccuracy";

/** What a table must fit. */
export interface TableConditions {
  readonly n: Counts;
  readonly withCondition: Counts | null;
  readonly testPositive: Counts | null;
  readonly shares: Readonly<Partial<Record<ShareMeasure, PrintedShare>>>;
}

/**
 * A way of turning the table so that one printed share is the share of its first column: which
 * measure stands where, and how the cells go back.
 */
interface Turn {
  /** Printed shares as the turned table's shares; in the order of the roles below. */
  readonly measures: readonly [ShareMeasure, ShareMeasure, ShareMeasure, ShareMeasure];
  /** Do columns and rows change places? */
  readonly crossed: boolean;
  /** Do they count those without the condition and the test-negative? */
  readonly opposite: boolean;
}

const turns: readonly Turn[] = [
  turn(
    ["sensitivity", "specificity", "positivePredictiveValue", "negativePredictiveValue"],
    false,
    false,
  ),
  turn(
    ["specificity", "sensitivity", "negativePredictiveValue", "positivePredictiveValue"],
    false,
    true,
  ),
  turn(
    ["positivePredictiveValue", "negativePredictiveValue", "sensitivity", "specificity"],
    true,
    false,
  ),
  turn(
    ["negativePredictiveValue", "positivePredictiveValue", "specificity", "sensitivity"],
    true,
    true,
  ),
];

function turn(measures: Turn["measures"], crossed: boolean, opposite: boolean): Turn {
  return { measures, crossed, opposite };
}

/**
 * Every table that fits, as runs of tables that differ in the second column alone. Counts are taken
 * as ranges: for each first column and each first cell the printed shares leave one range of the
 * second cell, so that no cell is tried that does not fit.
 *
 * @param halves half units of the last printed digit that a share may be off; 1 is rounding
 * @param onRun is given the length of a run and what makes its i-th table
 */
export function searchTables(
  conditions: TableConditions,
  halves: number,
  onRun: (length: number, table: (index: number) => TwoByTwo) => void,
): void {
  const chosen = turns.reduce((best, other) =>
    steps(other, conditions, halves) < steps(best, conditions, halves) ? other : best,
  );
  const { lead, opposed, row, rowOpposed, columns, rows, overall } = turned(chosen, conditions);
  const missed = opposed && complement(opposed);
  const rowMissed = rowOpposed && complement(rowOpposed);
  for (let n = conditions.n.from; n <= conditions.n.to; n += 1) {
    const size = { from: 0, to: n };
    const column = overlap(
      columns.given(n),
      columns.share ? partsOf(columns.share, n, halves) : size,
    );
    const rowTotal = overlap(rows.given(n), rows.share ? partsOf(rows.share, n, halves) : size);
    const agreeing = overall ? partsOf(overall, n, halves) : size;
    for (let m = column.from; m <= column.to; m += 1) {
      const second = missed ? partsOf(missed, n - m, halves) : { from: 0, to: n - m };
      if (second.from > second.to) continue;
      let first = lead ? partsOf(lead, m, halves) : { from: 0, to: m };
      if (row) first = overlap(first, partsBeside(row, second, halves));
      if (rowMissed) {
        const rest = { from: n - m - second.to, to: n - m - second.from };
        const { from, to } = partsBeside(rowMissed, rest, halves);
        first = overlap(first, { from: m - to, to: m - from });
      }
      for (let a = first.from; a <= first.to; a += 1) {
        const c = m - a;
        // b, the second cell of the first row, from each total it is part of
        let b = overlap(second, shift(rowTotal, -a));
        if (row) b = overlap(b, shift(totalsOf(row, a, halves, n), -a));
        if (rowMissed) {
          b = overlap(b, mirror(totalsOf(rowMissed, c, halves, n), n - a));
        }
        if (overall) b = overlap(b, mirror(agreeing, n - m + a));
        if (b.from <= b.to) {
          onRun(b.to - b.from + 1, (index) =>
            back(chosen, a, b.from + index, c, n - m - b.from - index),
          );
        }
      }
    }
  }
}

/** How many first cells the search would look at, in the best turn. */
export function searchSteps(conditions: TableConditions, halves: number): number {
  return Math.min(...turns.map((one) => steps(one, conditions, halves)));
}

/** First columns times first cells, for the middle n. */
function steps(one: Turn, conditions: TableConditions, halves: number): number {
  const { lead, columns } = turned(one, conditions);
  const sizes = conditions.n.to - conditions.n.from + 1;
  const n = conditions.n.to;
  const column = overlap(
    columns.given(n),
    columns.share ? partsOf(columns.share, n, halves) : { from: 0, to: n },
  );
  const count = Math.max(0, column.to - column.from + 1);
  const middle = (column.from + column.to) / 2;
  const width = lead ? (halves * middle) / lead.whole + 1 : middle + 1;
  return sizes * count * width;
}

interface Margin {
  readonly given: (n: number) => Counts;
  readonly share: PrintedShare | undefined;
}

function turned({ measures, crossed, opposite }: Turn, conditions: TableConditions) {
  const { shares, withCondition, testPositive } = conditions;
  const [lead, opposed, row, rowOpposed] = measures.map((measure) => shares[measure]);
  const margin = (counts: Counts | null, share: PrintedShare | undefined): Margin => ({
    given: (n) =>
      counts === null
        ? { from: 0, to: n }
        : opposite
          ? mirror(counts, n)
          : overlap(counts, { from: 0, to: n }),
    share: share && opposite ? complement(share) : share,
  });
  const condition = margin(withCondition, shares.prevalence);
  const test = margin(testPositive, shares.referralRate);
  return {
    lead,
    opposed,
    row,
    rowOpposed,
    columns: crossed ? test : condition,
    rows: crossed ? condition : test,
    overall: shares.overallAccuracy,
  };
}

/** The turned table's rows a b over c d as the four counts. */
function back({ crossed, opposite }: Turn, a: number, b: number, c: number, d: number): TwoByTwo {
  const [positive, negative] = opposite ? [d, a] : [a, d];
  const [upper, lower] = crossed === opposite ? [b, c] : [c, b];
  return {
    truePositive: positive,
    falsePositive: upper,
    falseNegative: lower,
    trueNegative: negative,
  };
}

const shift = ({ from, to }: Counts, by: number): Counts => ({ from: from + by, to: to + by });

const mirror = ({ from, to }: Counts, total: number): Counts =>
  from > to ? none : { from: Math.max(0, total - to), to: total - from };
