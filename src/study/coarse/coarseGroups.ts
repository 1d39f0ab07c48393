import { type CoarseCount, coarsen, isHidden, type SmallCounts } from "../../disclosure/index.js";
import { homogeneity } from "../../inference/index.js";
import type { Protocol } from "../../protocol/index.js";
import { sum } from "../../rows/index.js";
import type { ConditionCell } from "../run/studyCells.js";
import type { ConditionResult } from "../run/studyResult.js";
import {
  type CoarseCell,
  rowsIn,
  type TableCellName,
  tableCellOf,
  tableCells,
} from "./coarseCondition.js";
import { type CoarseRates, coarseRates } from "./coarseRates.js";
import { type Ledger, sumLedger } from "./ledger.js";
import { tableName } from "./ledgers.js";

/** The 2x2 table of each group; a cell is null where it is withheld for all groups. */
export interface CoarseGroups {
  readonly by: string;
  readonly role: "confirmatory" | "exploratory";
  readonly groups: readonly {
    readonly group: string;
    /** All of its examined rows. */
    readonly size: CoarseCount;
    readonly cells: { readonly [cell in TableCellName]: CoarseCount | null };
    /** Null where a cell behind it is withheld. */
    readonly sensitivity: CoarseRates["sensitivity"];
    readonly specificity: CoarseRates["specificity"];
  }[];
  /** Of one sensitivity, and one specificity; null over small or withheld counts. */
  readonly homogeneity: {
    readonly sensitivity: number | null;
    readonly specificity: number | null;
  };
}

type Grouping = ConditionResult["subgroups"][number];

/** A group with its children by the classes that are shown of groups. */
export interface Group {
  readonly group: string;
  readonly cells: readonly CoarseCell[];
  /** All whom the programme decided so, made coarse as one number. */
  readonly totalOf: (recorded: ConditionCell["recorded"]) => CoarseCount;
}

const otherSites = "all other sites";

/**
 * The children of each group by their cell of the 2x2 table, or, where passes were examined in part, by
 * what the programme decided and how the exam ended, the decision standing as what is studied; sites with
 * small counts alone are one.
 */
export function groupCells(
  { by, cells }: Grouping,
  { undecidable }: Pick<Protocol, "undecidable">,
  rule: SmallCounts,
): readonly Group[] {
  const places = new Map<string, Omit<CoarseCell, "count">>();
  const placeOf = (cell: ConditionCell): Omit<CoarseCell, "count"> => {
    const { recorded, state, eyes } = cell;
    return { recorded, state, eyes, studied: sideOf(cell, undecidable) };
  };
  const keyOf = (cell: ConditionCell) => JSON.stringify(placeOf(cell));
  for (const { cells: own } of cells) {
    for (const cell of own) places.set(keyOf(cell), placeOf(cell));
  }
  const pooled = (list: readonly ConditionCell[]): readonly CoarseCell[] =>
    [...places].map(([key, place]) => ({
      ...place,
      count: coarsen(childrenOf(list.filter((cell) => keyOf(cell) === key)), rule),
    }));
  const groupOf = (group: string, own: readonly ConditionCell[]): Group => ({
    group,
    cells: pooled(own),
    totalOf: (recorded) =>
      coarsen(childrenOf(own.filter((cell) => cell.recorded === recorded)), rule),
  });
  const groups = cells.map(({ group, cells: own }) => ({ own, made: groupOf(group, own) }));
  if (by === "age") return groups.map(({ made }) => made);
  const isSmall = ({ made }: (typeof groups)[number]) =>
    made.cells.every(({ count }) => isHidden(count));
  return [
    ...groups.filter((one) => !isSmall(one)).map(({ made }) => made),
    groupOf(
      otherSites,
      groups.filter(isSmall).flatMap(({ own }) => own),
    ),
  ];
}

const childrenOf = (list: readonly ConditionCell[]) => sum(list.map(({ children }) => children));

/** What the programme's decision is as a referral; what is studied where it is not known. */
export function sideOf(
  { recorded, studied }: Pick<ConditionCell, "recorded" | "studied">,
  undecidable: Protocol["undecidable"],
): ConditionCell["studied"] {
  if (recorded === null) return studied;
  return recorded === "refer" || (recorded === "unable" && undecidable !== "pass")
    ? "refer"
    : "pass";
}

/** Groups make up a count of the whole. */
export function groupsLedger(
  whole: string,
  groups: readonly Group[],
  isOf: (cell: CoarseCell) => boolean,
  grouping: number,
): Ledger {
  return sumLedger(
    whole,
    groups.flatMap(({ group, cells }) =>
      cells.filter(isOf).map(({ count, eyes }) => ({
        name: `${grouping} ${group} ${whole} ${eyes}`,
        count,
        times: eyes,
      })),
    ),
  );
}

/** The groups of a study in which everybody was examined; `add` says whether one more table may be shown. */
export function coarseGroups(
  condition: ConditionResult,
  at: number,
  protocol: Pick<Protocol, "level" | "seed" | "sampling" | "verification" | "clusters">,
  groups: readonly Group[],
  add: (ledger: Ledger) => boolean,
): CoarseGroups {
  const { by, role } = condition.subgroups[at]!;
  const complete = protocol.verification === "complete";
  const withheld = tableCells.filter(
    (name) =>
      !complete ||
      !add(
        groupsLedger(tableName(condition, name), groups, (cell) => tableCellOf(cell) === name, at),
      ),
  );
  const isShown = (...names: readonly TableCellName[]) =>
    !names.some((name) => withheld.includes(name));
  const made = groups.map(({ group, cells }) => {
    const rates = complete ? coarseRates(cells, { knownStand: false }, protocol) : null;
    const of = (name: TableCellName) => cells.filter((cell) => tableCellOf(cell) === name);
    return {
      group,
      size: rowsIn(cells.filter((cell) => tableCellOf(cell) !== null)),
      own: of,
      cells: Object.fromEntries(
        tableCells.map((name) => [name, isShown(name) ? rowsIn(of(name)) : null]),
      ) as CoarseGroups["groups"][number]["cells"],
      sensitivity: isShown("truePositive", "falseNegative") ? (rates?.sensitivity ?? null) : null,
      specificity: isShown("trueNegative", "falsePositive") ? (rates?.specificity ?? null) : null,
    };
  });
  const p = (right: TableCellName, wrong: TableCellName): number | null => {
    const counts = made.map(({ own }) => [own(right), own(wrong)]);
    const small = counts.flat(2).some(({ count, eyes }) => isHidden(count) || eyes === 2);
    // no test is known to hold of groups that share sites
    const shareSites = protocol.clusters === "site" && by !== "site";
    if (small || shareSites || !isShown(right, wrong)) return null;
    const shares = counts.map(([good, bad]) => {
      const middle = (cells: readonly CoarseCell[]) =>
        cells.reduce((sum, { count }) => sum + count.middle, 0);
      const [successes, size] = [middle(good!), middle(good!) + middle(bad!)];
      return { successes, size, value: successes / size };
    });
    const test = homogeneity(shares, "pearson");
    return test.kind === "undefined" ? null : Number(test.p.toPrecision(1));
  };
  return {
    by,
    role,
    groups: made.map(({ own: _, ...group }) => group),
    homogeneity: {
      sensitivity: p("truePositive", "falseNegative"),
      specificity: p("trueNegative", "falsePositive"),
    },
  };
}
