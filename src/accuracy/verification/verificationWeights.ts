import type { ExaminationColumns, UndecidablePolicy } from "../../rows/index.js";
import type { DecisionColumns } from "./decisionRows.js";
import { sortedCells } from "./verificationCells.js";

/** Who stands for others, and in which stratum; `kept` are the rows that the policy leaves in. */
export interface VerificationWeights extends ExaminationColumns {
  readonly kind: "verification-weights";
  readonly examined: readonly boolean[];
  readonly strata: readonly string[];
  readonly kept: readonly number[];
}

/**
 * The same cells as strata of rows, for limits of agreement, curves and areas: those who stand for
 * others weigh as many as there are in their stratum for each of them. A cell in which nobody was
 * examined joins the largest other cell of its decision, if it is at most 5 % of it; else it stays
 * empty, and what is weighted says that it cannot be.
 *
 * @param columns as `verificationCells` takes them
 * @throws InputError as `verificationCells`
 *
 * @example
 * verificationWeights({ recorded: ["refer", "pass"], test: [1, 0], reference: [1, null], reason: ["referred", "not-examined"] }).examined // => [true, false]
 */
export function verificationWeights(
  columns: DecisionColumns,
  options: { readonly undecidable?: UndecidablePolicy } = {},
): VerificationWeights {
  const { sorted, cellOf, stands } = sortedCells("verificationWeights", columns, options);
  const { cells } = sorted;
  const names = cells.map(({ recorded, studied, group, own }) =>
    [
      decisionWords[recorded],
      ...(recorded === studied
        ? []
        : [`${studied === "refer" ? "referred" : "passed"} by the rule`]),
      ...(group === "" ? [] : [group]),
      ...(own ? ["came by themselves"] : []),
    ].join(", "),
  );
  const stratum = cells.map((cell, at) => {
    if (cell.examined > 0) return names[at];
    const alike = cells.filter(({ recorded, own }) => recorded === cell.recorded && !own);
    const all = alike.reduce((sum, { n }) => sum + n, 0);
    const largest = alike.toSorted((one, other) => other.examined - one.examined)[0];
    return cell.n <= 0.05 * all && largest.examined > 0 ? names[cells.indexOf(largest)] : names[at];
  });
  const kept = Array.from(cellOf.keys()).filter((row) => cellOf[row] >= 0);
  return {
    kind: "verification-weights",
    examined: kept.map((row) => stands[row] === 1),
    strata: kept.map((row) => stratum[cellOf[row]]),
    kept,
  };
}

const decisionWords = { refer: "referred", pass: "passed", unable: "unable" } as const;
