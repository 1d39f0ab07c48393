import type { TwoByTwo } from "../../results/index.js";
import type { UndecidablePolicy } from "../../rows/index.js";
import { type CellCount, countsBySite } from "./cellCounts.js";
import { type DecisionColumns, type DecisionRow, decisionRows } from "./decisionRows.js";
import type { PooledCounts } from "./verificationStrata.js";

/** Children among whom those examined stand for the others. */
export interface VerificationCell {
  /** What the programme decided, on which being examined depends. */
  readonly recorded: "refer" | "pass" | "unable";
  /** What the rule under study says of them. */
  readonly studied: "refer" | "pass";
  /** Declared stratum or share drawn; "" where they are pooled. */
  readonly group: string;
  readonly n: number;
  /** Who of them stand for all, and of these the ones with the condition. */
  readonly examined: number;
  readonly cases: number;
  /** Examined too, but standing for nobody. */
  readonly knownOnly: number;
  /** They came by themselves and stand for nobody but themselves: n are examined. */
  readonly own: boolean;
}

/** Children sorted by who stands for whom, with every known child kept. */
export interface VerificationCells {
  readonly kind: "verification-cells";
  readonly n: number;
  readonly cells: readonly VerificationCell[];
  /** All examined children by the rule under study, whoever they stand for; and the unexamined. */
  readonly counts: PooledCounts;
  /** Examined children who stand for nobody: in the bounds and in the known counts only. */
  readonly knownOnly: TwoByTwo;
  /** Left out by the policy "exclude". */
  readonly excluded: number;
  /** Rows a child has on average. */
  readonly rowsPerChild: number;
}

/**
 * Sorts screened children into the cells within which the examined stand for the others.
 *
 * Who was examined follows from what the programme decided, not from the rule under study, so cells
 * go by both. Passes: by decision, rule and share drawn. Referred: by decision, rule and stratum
 * where each stratum has 5 examined, else strata pooled. Unable: by decision and rule. Every referred
 * or unable child who was examined stands for the others of the cell; of passes those drawn at
 * random. A pass who came by himself: where `selfPresented` is known of the drawn too, all who came
 * are a cell of their own, and the drawn others stand for the remaining passes; else he stands for
 * nobody. So does a pass who was examined for an unknown reason. (Begg and Greenes 1983, with the
 * decision that led to the exam as their test result and the studied rule as a covariate.)
 *
 * @param columns one row a child (or an eye, with `subjects`); `recorded` is "refer", "pass" or
 * "unable"; `reason` "referred", "sampled" (drawn), "self-presented", "unknown" or "not-examined";
 * `reference` is read only where a child was examined
 * @throws InputError when lengths differ, a word is unknown, or rows are undecidable without a policy
 *
 * @example
 * verificationCells({ recorded: ["refer", "pass", "pass"], test: [1, 1, 0], reference: [1, 0, null], reason: ["referred", "sampled", "not-examined"] }).cells.length // => 3
 */
export function verificationCells(
  columns: DecisionColumns,
  options: { readonly undecidable?: UndecidablePolicy } = {},
): VerificationCells {
  return sortedCells("verificationCells", columns, options).sorted;
}

/**
 * The cells, and for each row the cell it is in and whether it stands for it; -1 is left out. `bySite` is what
 * each site adds to each cell, undefined where the columns name no sites.
 */
export function sortedCells(
  caller: string,
  columns: DecisionColumns,
  options: { readonly undecidable?: UndecidablePolicy },
): {
  readonly sorted: VerificationCells;
  readonly cellOf: Int32Array;
  readonly stands: Uint8Array;
  readonly bySite: readonly (readonly CellCount[])[] | undefined;
} {
  const { rows, excluded, rowsPerChild, sites } = decisionRows(
    caller,
    columns,
    options.undecidable,
  );
  const groupOf = referralGroups(rows);
  const places = new Map<string, number>();
  const cells: { -readonly [Key in keyof VerificationCell]: VerificationCell[Key] }[] = [];
  const cellOf = new Int32Array(columns.test.length).fill(-1);
  const stands = new Uint8Array(columns.test.length);
  const isCase = new Uint8Array(columns.test.length);
  const known = emptyTable();
  const knownOnly = emptyTable();
  const unverified = { testPositive: 0, testNegative: 0 };
  for (const row of rows) {
    const { recorded, studied, condition, own } = row;
    const group = own ? "" : recorded === "pass" ? row.shareClass : groupOf(row);
    const key = `${recorded} ${studied} ${own} ${group}`;
    let place = places.get(key);
    if (place === undefined) {
      place = cells.length;
      places.set(key, place);
      cells.push({ recorded, studied, group, n: 0, examined: 0, cases: 0, knownOnly: 0, own });
    }
    const cell = cells[place];
    cellOf[row.row] = place;
    cell.n++;
    if (row.stands) {
      stands[row.row] = 1;
      cell.examined++;
      if (condition === true) {
        isCase[row.row] = 1;
        cell.cases++;
      }
    }
    if (condition === null) unverified[studied === "refer" ? "testPositive" : "testNegative"]++;
    else {
      const name = cellName(studied, condition);
      known[name]++;
      if (!row.stands) {
        knownOnly[name]++;
        cell.knownOnly++;
      }
    }
  }
  const sorted: VerificationCells = {
    kind: "verification-cells",
    n: rows.length,
    cells,
    counts: { verified: known, unverified },
    knownOnly,
    excluded,
    rowsPerChild,
  };
  const bySite =
    sites &&
    countsBySite(cells.length, sites, (at) => ({
      cell: cellOf[at],
      stands: stands[at] === 1,
      isCase: isCase[at] === 1,
    }));
  return { sorted, cellOf, stands, bySite };
}

/** The stratum of a referred child where every stratum of its rule's result has 5 examined, else "". */
function referralGroups(rows: readonly DecisionRow[]): (row: DecisionRow) => string {
  const examined = { refer: new Map<string, number>(), pass: new Map<string, number>() };
  for (const { recorded, studied, stratum, stands } of rows) {
    if (recorded !== "refer") continue;
    const counts = examined[studied];
    counts.set(stratum, (counts.get(stratum) ?? 0) + Number(stands));
  }
  const enough = (studied: "refer" | "pass") =>
    [...examined[studied].values()].every((count) => count >= 5);
  const split = { refer: enough("refer"), pass: enough("pass") };
  return ({ recorded, studied, stratum }) =>
    recorded === "refer" && split[studied] ? stratum : "";
}

const emptyTable = () => ({
  truePositive: 0,
  falsePositive: 0,
  falseNegative: 0,
  trueNegative: 0,
});

function cellName(studied: "refer" | "pass", condition: boolean): keyof TwoByTwo {
  if (studied === "refer") return condition ? "truePositive" : "falsePositive";
  return condition ? "falseNegative" : "trueNegative";
}
