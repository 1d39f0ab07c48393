import { type CoarseCount, coarsen, isHidden, type SmallCounts } from "../../disclosure/index.js";
import { homogeneity } from "../../inference/index.js";
import type { Protocol } from "../../protocol/index.js";
import type { ConditionCell } from "../run/studyCells.js";
import type { ConditionResult } from "../run/studyResult.js";
import {
  type CoarseCell,
  type CoarseRates,
  coarseRates,
  rowsIn,
  type TableCellName,
  tableCellOf,
  tableCells,
} from "./coarseCondition.js";
import { type Ledger, sumLedger } from "./ledger.js";
import { tableName } from "./ledgers.js";

/** The 2x2 table of each group; a cell is null where it is withheld for all groups. */
export interface CoarseGroups {
  readonly by: "age" | "site";
  readonly role: "confirmatory" | "exploratory";
  readonly groups: readonly {
    readonly group: string;
    /** All of its examined rows. */
    readonly size: CoarseCount;
    readonly cells: { readonly [cell in TableCellName]: CoarseCount | null };
    /** Null where a cell behind it is withheld, or who was examined had to be corrected for. */
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

interface Group {
  readonly group: string;
  readonly cells: readonly CoarseCell[];
}

const otherSites = "all other sites";

/** The examined of each group by their cell of the 2x2 table; sites with small counts alone are one. */
export function groupCells({ by, cells }: Grouping, rule: SmallCounts): readonly Group[] {
  const eyes = [...new Set(cells.flatMap(({ cells: own }) => own.map((cell) => cell.eyes)))];
  const pooled = (list: readonly ConditionCell[]): readonly CoarseCell[] =>
    tableCells.flatMap((name) =>
      eyes.map((count): CoarseCell => {
        const own = list.filter((cell) => tableCellOf(cell) === name && cell.eyes === count);
        const children = own.reduce((sum, cell) => sum + cell.children, 0);
        const has = name === "truePositive" || name === "falseNegative";
        const referred = name === "truePositive" || name === "falsePositive";
        return {
          recorded: null,
          studied: referred ? "refer" : "pass",
          state: has ? "with" : "without",
          eyes: count,
          count: coarsen(children, rule),
        };
      }),
    );
  const groups = cells.map(({ group, cells: own }) => ({ group, exact: own, cells: pooled(own) }));
  if (by === "age") return groups;
  const isSmall = (one: Group) => one.cells.every(({ count }) => isHidden(count));
  return [
    ...groups.filter((one) => !isSmall(one)),
    { group: otherSites, cells: pooled(groups.filter(isSmall).flatMap(({ exact }) => exact)) },
  ];
}

/** Groups make up a cell of the whole table. */
export function groupsLedger(
  condition: ConditionResult,
  groups: readonly Group[],
  name: TableCellName,
  grouping: number,
): Ledger {
  return sumLedger(
    tableName(condition, name),
    groups.flatMap(({ group, cells }) =>
      cells
        .filter((cell) => tableCellOf(cell) === name)
        .map(({ count, eyes }) => ({
          name: `${grouping} ${group} ${name} ${eyes}`,
          count,
          times: eyes,
        })),
    ),
  );
}

/** The groups with their rates, without the cells that are withheld. */
export function coarseGroups(
  { by, role }: Grouping,
  groups: readonly Group[],
  withheld: readonly TableCellName[],
  protocol: Pick<Protocol, "level" | "seed" | "sampling" | "verification" | "clusters">,
): CoarseGroups {
  const isShown = (...names: readonly TableCellName[]) =>
    protocol.verification === "complete" && !names.some((name) => withheld.includes(name));
  const made = groups.map(({ group, cells }) => {
    const rates = coarseRates(
      cells,
      { knownStand: false },
      { ...protocol, verification: "complete" },
    );
    const of = (name: TableCellName) => cells.filter((cell) => tableCellOf(cell) === name);
    return {
      group,
      size: rowsIn(cells),
      own: of,
      cells: Object.fromEntries(
        tableCells.map((name) => [name, withheld.includes(name) ? null : rowsIn(of(name))]),
      ) as CoarseGroups["groups"][number]["cells"],
      sensitivity: isShown("truePositive", "falseNegative") ? rates.sensitivity : null,
      specificity: isShown("trueNegative", "falsePositive") ? rates.specificity : null,
    };
  });
  const p = (right: TableCellName, wrong: TableCellName): number | null => {
    const counts = made.map(({ own }) => [own(right), own(wrong)]);
    const small = counts.flat(2).some(({ count, eyes }) => isHidden(count) || eyes === 2);
    if (small || !isShown(right, wrong)) return null;
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
