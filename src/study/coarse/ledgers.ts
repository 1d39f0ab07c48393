import type { SmallCounts } from "../../disclosure/index.js";
import type { ConditionResult } from "../run/studyResult.js";
import { type CoarseCell, type TableCellName, tableCellOf, tableCells } from "./coarseCondition.js";
import type { CoarseCurve } from "./coarseCurve.js";
import type { CoarseFlow } from "./coarseFlow.js";
import { impliedCount, joined, type Ledger, noLedger, sumLedger } from "./ledger.js";

/** A condition with its cells made coarse. */
export interface Placed {
  readonly condition: ConditionResult;
  readonly cells: readonly CoarseCell[];
}

export const cellName = ({ id }: ConditionResult, at: number) => `${id} cell ${at}`;

/** The whole of a cell of the 2x2 table, over what the programme decided. */
export const tableName = ({ id }: Pick<ConditionResult, "id">, name: TableCellName) =>
  `${id} ${name}`;

/** All whom the programme decided so. */
export const decisionName = ({ id }: Pick<ConditionResult, "id">, decision: string) =>
  `${id} ${decision}`;

/** Of these, the ones whose exam ended so. */
export const stateName = (
  { id }: Pick<ConditionResult, "id">,
  { recorded, state }: Pick<CoarseCell, "recorded" | "state">,
) => `${id} ${recorded} ${state}`;

/**
 * The cells of a condition, summed to its rows: by way of its 2x2 table where everybody was examined, else
 * by what the programme decided and how the exam ended, so that other tables can join there.
 */
export function cellsLedger({ condition, cells }: Placed): Ledger {
  const parts = cells.map((cell, at) => ({
    name: cellName(condition, at),
    count: cell.count,
    times: cell.eyes,
    cell,
  }));
  const partOf = (names: Iterable<string>) => [...new Set(names)].map((name) => ({ name }));
  const makesUp = (whole: string, names: Iterable<string>): Ledger => ({
    ...noLedger,
    equations: [{ whole, parts: partOf(names) }],
  });
  const rows = `${condition.id} rows`;
  if (cells.every(({ recorded }) => recorded === null)) {
    return joined(
      ...tableCells.map((name) =>
        sumLedger(
          tableName(condition, name),
          parts.filter(({ cell }) => tableCellOf(cell) === name),
        ),
      ),
      makesUp(
        rows,
        tableCells.map((name) => tableName(condition, name)),
      ),
    );
  }
  const states = partOf(cells.map((cell) => stateName(condition, cell)));
  const decisions = [...new Set(cells.map(({ recorded }) => String(recorded)))];
  return joined(
    ...states.map(({ name }) =>
      sumLedger(
        name,
        parts.filter(({ cell }) => stateName(condition, cell) === name),
      ),
    ),
    ...decisions.map((decision) =>
      makesUp(
        decisionName(condition, decision),
        cells
          .filter(({ recorded }) => recorded === decision)
          .map((cell) => stateName(condition, cell)),
      ),
    ),
    makesUp(
      rows,
      decisions.map((decision) => decisionName(condition, decision)),
    ),
  );
}

/** The children out of the rows, and the rows, make up all. */
function apartLedger(flow: CoarseFlow, whole: readonly { readonly name: string }[]): Ledger {
  const { before, unexamined, undecided } = flow;
  const apart = sumLedger("apart", [
    { name: "before", count: before },
    ...(unexamined === null ? [] : [{ name: "no exam", count: unexamined }]),
    { name: "undecided", count: undecided },
  ]);
  return joined(apart, {
    ...noLedger,
    equations: [{ whole: "all", parts: [{ name: "apart" }, ...whole] }],
  });
}

/**
 * What the first condition and the flow say. Where a child is one row, its rows are children; where
 * both eyes are rows, the children with one and those with two follow from children and eyes, each in
 * a ledger of its own.
 */
export function wholeLedgers(
  first: Placed,
  flow: CoarseFlow,
  rule: SmallCounts,
): readonly Ledger[] {
  const { condition } = first;
  const own = cellsLedger(first);
  const rows = `${condition.id} rows`;
  if (first.cells.every(({ eyes }) => eyes === 1)) {
    return [joined(own, apartLedger(flow, [{ name: rows }]))];
  }
  const { compared } = flow;
  const known = [{ name: "compared", low: compared.low, high: compared.high }];
  const { children, cells } = condition.cells;
  const eyes = cells.reduce((sum, cell) => sum + cell.eyes * cell.children, 0);
  const implied = (name: string, count: number, ofChildren: number, ofEyes: number) =>
    joined(own, impliedCount(name, count, rule.fewerThan), {
      known,
      equations: [
        {
          whole: name,
          parts: [
            { name: "compared", times: ofChildren },
            { name: rows, times: ofEyes },
          ],
        },
      ],
      small: compared.low === 0 ? ["compared"] : [],
    });
  return [
    implied("one eye", 2 * children - eyes, 2, -1),
    implied("two eyes", eyes - children, -1, 1),
  ];
}

/** Bands of the curve make up each side of the 2x2 table. */
export function curveLedger({ condition }: Placed, { bands }: CoarseCurve): Ledger {
  const of = (name: TableCellName, side: "refer" | "pass", kind: "with" | "without") =>
    sumLedger(
      tableName(condition, name),
      bands.flatMap((band, at) =>
        band.side === side
          ? [{ name: `${condition.id} band ${at} ${kind}`, count: band[kind] }]
          : [],
      ),
    );
  return joined(
    of("truePositive", "refer", "with"),
    of("falsePositive", "refer", "without"),
    of("falseNegative", "pass", "with"),
    of("trueNegative", "pass", "without"),
  );
}

/** Whether two conditions are of the same rows. */
export const hasSameRows = ({ condition: one }: Placed, { condition: other }: Placed): boolean =>
  one.screened === other.screened && one.cells.children === other.cells.children;

/** Another condition's cells: of the same rows, or of the same children with others left out. */
export function conditionLedger(place: Placed, first: Placed, rule: SmallCounts): Ledger {
  const { condition, cells } = place;
  const own = cellsLedger(place);
  const { apart } = condition.cells;
  if (hasSameRows(place, first)) {
    const same = [{ name: `${condition.id} rows` }];
    return joined(own, {
      ...noLedger,
      equations: [{ whole: `${first.condition.id} rows`, parts: same }],
    });
  }
  // children and eyes of other rows share no sum
  if (cells.some(({ eyes }) => eyes === 2)) return own;
  const name = `${condition.id} apart`;
  const count = apart.before + apart.unexamined + apart.undecided;
  return joined(own, impliedCount(name, count, rule.fewerThan), {
    ...noLedger,
    equations: [{ whole: "all", parts: [{ name }, { name: `${condition.id} rows` }] }],
  });
}
