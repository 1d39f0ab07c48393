import {
  type CoarseCount,
  coarseSum,
  isHidden,
  type SmallCounts,
  type SumRange,
  safeRanges,
  sumEnds,
  sumRanges,
  totalOf,
} from "../../disclosure/index.js";
import { type CoarseCell, rowsIn, tableCellOf } from "./coarseCondition.js";
import type { CoarseFlow } from "./coarseFlow.js";
import { joined, type Ledger, noLedger } from "./ledger.js";
import { cellName, type Placed, stateName, tableName } from "./ledgers.js";

/** Small counts that were counted together: how many, and the range that their sum reads. */
export interface Together {
  readonly counts: number;
  readonly sum: CoarseCount;
}

/** Sums of small counts, which make totals narrower; null where each small count stands for itself. */
export interface Totals {
  /** Of the rows of the first condition. */
  readonly rows: Together | null;
  /** Of these rows and of those left out of them. */
  readonly all: Together | null;
}

interface Part {
  readonly name: string;
  readonly count: CoarseCount;
  readonly exact: number;
  /** The sum that the tables have it in. */
  readonly of: string;
  readonly isExamined: boolean;
}

/**
 * Small counts counted together, so that a total is no wider than it must be. The ranges that a sum may read are such
 * that each small count keeps its own beside all tables, whichever of them the sum reads.
 *
 * @param ledger all that the tables say
 */
export function countedTogether(
  first: Placed,
  flow: CoarseFlow | null,
  ledger: Ledger,
  rule: SmallCounts,
): Totals {
  const rows = partsOfRows(first);
  const outside = flow === null ? [] : partsOutside(first, flow);
  const small = (parts: readonly Part[]) => parts.filter(({ count }) => isHidden(count));
  const [own, others] = [small(rows), small(outside)];
  const said = joined(ledger, sumsLedger(first, rows, outside));
  const ofRows = summed("rows together", own, said, sumEnds(own.length, rule), rule);
  if (others.length === 0) return { rows: ofRows, all: null };
  const ends =
    ofRows === null
      ? sumEnds(own.length + others.length, rule)
      : sumEnds(others.length, rule, ofRows.sum, own.length);
  const { low, high } = ofRows?.sum ?? { low: 0, high: Number.POSITIVE_INFINITY };
  const beside = ofRows === null ? [] : [{ name: "rows together", low, high }];
  const all = { ...said, known: [...said.known, ...beside] };
  const ofAll = summed("all together", [...own, ...others], all, ends, rule);
  return { rows: withinAll(ofRows, own, others.length, ofAll, rule), all: ofAll };
}

/** The sum of the rows as the sum of all lets it be: what a reader can work out. */
function withinAll(
  rows: Together | null,
  own: readonly Part[],
  others: number,
  all: Together | null,
  { fewerThan }: SmallCounts,
): Together | null {
  if (all === null || own.length === 0) return rows;
  const most = fewerThan - 1;
  const before = rows?.sum ?? { low: 0, high: own.length * most };
  const low = Math.max(before.low, all.sum.low - others * most);
  const high = Math.min(before.high, all.sum.high);
  if (low === before.low && high === before.high) return rows;
  return { counts: own.length, sum: coarseSum(exactOf(own), [{ low, high }]) };
}

const exactOf = (parts: readonly Part[]) => parts.reduce((sum, { exact }) => sum + exact, 0);

/** The cells of the rows; none where children have one eye or two in the rows, as these are no children. */
function partsOfRows({ condition, cells }: Placed): readonly Part[] {
  if (cells.some(({ eyes }) => eyes === 2)) return [];
  return cells.map((cell, at) => {
    const place = tableCellOf(cell);
    return {
      name: cellName(condition, at),
      count: cell.count,
      exact: condition.cells.cells[at]!.children,
      of:
        cell.recorded === null && place !== null
          ? tableName(condition, place)
          : stateName(condition, cell),
      isExamined: place !== null,
    };
  });
}

function partsOutside({ condition }: Placed, flow: CoarseFlow): readonly Part[] {
  const { before, unexamined, undecided } = condition.cells.apart;
  const part = (name: string, count: CoarseCount, exact: number): Part => ({
    name,
    count,
    exact,
    of: "apart",
    isExamined: false,
  });
  return [
    part("before", flow.before, before),
    ...(flow.unexamined === null ? [] : [part("no exam", flow.unexamined, unexamined)]),
    part("undecided", flow.undecided, undecided + (flow.unexamined === null ? unexamined : 0)),
  ];
}

/** Every sum of the tables as its small counts together and its others, so that bounds meet soon. */
function sumsLedger(
  { condition }: Placed,
  rows: readonly Part[],
  outside: readonly Part[],
): Ledger {
  const nodes = [...new Set(rows.map(({ of }) => of))];
  const named = (names: readonly string[]) => names.map((name) => ({ name }));
  const namesOf = (parts: readonly Part[], isSmall: boolean) =>
    parts.filter(({ count }) => isHidden(count) === isSmall).map(({ name }) => name);
  const split = (whole: string, sum: string, parts: readonly Part[], of: readonly string[]) => [
    { whole: sum, parts: named(of) },
    { whole, parts: named([sum, ...namesOf(parts, false)]) },
  ];
  const examined = rows.filter(({ isExamined }) => isExamined);
  const others = rows.filter(({ isExamined }) => !isExamined);
  const nodesOf = (parts: readonly Part[]) =>
    nodes.filter((node) => parts.some(({ of }) => of === node)).map((node) => `${node} together`);
  return {
    ...noLedger,
    known: [...rows, ...outside].map(({ name, count: { low, high } }) => ({ name, low, high })),
    equations: [
      ...nodes.flatMap((node) => {
        const parts = rows.filter(({ of }) => of === node);
        return split(node, `${node} together`, parts, namesOf(parts, true));
      }),
      ...(rows.length === 0
        ? []
        : [
            ...split(`${condition.id} rows`, "rows together", rows, nodesOf(rows)),
            ...split("examined", "examined together", examined, nodesOf(examined)),
            ...split("not examined", "not examined together", others, nodesOf(others)),
            {
              whole: `${condition.id} rows`,
              parts: named(["examined", "not examined"]),
            },
            {
              whole: "rows together",
              parts: named(["examined together", "not examined together"]),
            },
          ]),
      ...(outside.length === 0
        ? []
        : split("apart", "apart together", outside, namesOf(outside, true))),
      {
        whole: "all together",
        parts: named([
          ...(rows.length === 0 ? [] : ["rows together"]),
          ...(outside.length === 0 ? [] : ["apart together"]),
        ]),
      },
    ],
    small: namesOf([...rows, ...outside], true),
  };
}

/** The range that a sum reads; null where it is one that says nothing. */
function summed(
  name: string,
  parts: readonly Part[],
  ledger: Ledger,
  ends: Parameters<typeof sumRanges>[0],
  rule: SmallCounts,
): Together | null {
  const wanted = sumRanges(ends, rule);
  if (wanted.length < 2) return null;
  const { known, equations } = ledger;
  const implied = new Set([...(ledger.implied ?? []), ...(ledger.open ?? [])]);
  const small = ledger.small.filter((one) => !implied.has(one));
  const asked = { small, implied: [...implied], fewerThan: rule.fewerThan };
  const ranges: readonly SumRange[] = safeRanges(known, equations, asked, { name, ranges: wanted });
  const [low, high] = [ranges[0]!.low, ranges.at(-1)!.high];
  if (ranges.length === 1 && low <= ends.low && high >= ends.high) return null;
  return { counts: parts.length, sum: coarseSum(exactOf(parts), ranges) };
}

const shownOf = (counts: readonly CoarseCount[]) => counts.filter((count) => !isHidden(count));

/** The rows of a condition: its counts that are shown, and the others together. */
export function totalRows(
  cells: readonly CoarseCell[],
  { rows }: Pick<Totals, "rows">,
): CoarseCount {
  if (rows === null) return rowsIn(cells);
  return totalOf([...shownOf(cells.map(({ count }) => count)), rows.sum]);
}

/** The flow with its totals. */
export function totalFlow(
  flow: CoarseFlow,
  cells: readonly CoarseCell[],
  { rows, all }: Totals,
): CoarseFlow {
  const { before, unexamined, undecided } = flow;
  const outside = [before, ...(unexamined ? [unexamined] : []), undecided];
  const twoEyes = cells.some(({ eyes }) => eyes === 2);
  const compared = twoEyes ? flow.compared : totalRows(cells, { rows });
  if (all === null) return { ...flow, compared, all: totalOf([...outside, compared]) };
  const own = twoEyes ? [compared] : shownOf(cells.map(({ count }) => count));
  return { ...flow, compared, all: totalOf([...shownOf(outside), ...own, all.sum]) };
}
