import type { Protocol } from "../../protocol/index.js";
import { type RunOptions, type Undefined, undefinedBecause } from "../../results/index.js";
import {
  type AreaBootstrap,
  areaUnderCurveOnThreads,
  type PositiveWhen,
  type ThresholdRows,
} from "../../thresholds/index.js";
import type { ConditionRows } from "./conditionRows.js";

/** Rows of a variable of the reading, with what is known of the exam. */
export interface VariableRows
  extends Pick<ConditionRows, "test" | "reference" | "reason" | "subjects"> {
  readonly values: ArrayLike<number>;
  /** The group within which a child was drawn for the exam, beside the result. */
  readonly groups: readonly string[];
}

type WeightedRows = ThresholdRows & { readonly kind: "weighted-rows" };

/**
 * The rows with a value, the examined standing for the unexamined of the same result and group. Who
 * may stand for others is who may enter the correction: referred and examined for it, or drawn.
 */
export function weightedRows(
  rows: VariableRows,
  { unreadable }: Protocol,
): WeightedRows | Undefined {
  const kept: { value: number; condition: boolean | null; stratum: string; subject: number }[] = [];
  for (let row = 0; row < rows.test.length; row++) {
    const decision = rows.test[row];
    if (Number.isNaN(rows.values[row])) continue;
    if (decision === "undecidable" && unreadable === "exclude") continue;
    const referred = decision === "undecidable" ? unreadable === "refer" : decision;
    const stands = standsForOthers(rows.reason[row], referred);
    kept.push({
      value: rows.values[row],
      condition: stands ? rows.reference[row] : null,
      stratum: `${referred ? "referred" : "passed"}${rows.groups[row] && `, ${rows.groups[row]}`}`,
      subject: rows.subjects[row],
    });
  }
  const examined = kept.filter(({ condition }) => condition !== null);
  if (!examined.some(({ stratum }) => stratum.startsWith("passed"))) {
    return undefinedBecause(
      "none of those who passed was drawn for the exam, so nobody stands for the unexamined",
    );
  }
  const strata = new Set(examined.map(({ stratum }) => stratum));
  const blind = kept.find(({ stratum }) => !strata.has(stratum));
  if (blind !== undefined) {
    return undefinedBecause(`nobody stands for the unexamined of the group "${blind.stratum}"`);
  }
  for (const known of [true, false]) {
    if (!examined.some(({ condition }) => condition === known)) {
      return undefinedBecause(
        `none of the examined who stand for others is ${known ? "with" : "without"} the condition`,
      );
    }
  }
  return {
    kind: "weighted-rows",
    values: kept.map(({ value }) => value),
    condition: kept.map(({ condition }) => condition === true),
    subjects: kept.map(({ subject }) => subject),
    verification: {
      examined: kept.map(({ condition }) => condition !== null),
      strata: kept.map(({ stratum }) => stratum),
    },
  };
}

/** Drawn for the exam, or referred by this very result and examined for that. */
export function standsForOthers(
  reason: VariableRows["reason"][number],
  referred: boolean,
): boolean {
  return reason === "sampled" || (reason === "referred" && referred);
}

/** The area with weights estimated anew in each resample of children. */
export async function weightedArea(
  rows: WeightedRows | Undefined,
  positiveWhen: PositiveWhen,
  { seed, level, replicates }: Protocol,
  run: RunOptions & { readonly workers?: number },
): Promise<AreaBootstrap | Undefined> {
  if (rows.kind === "undefined") return rows;
  const options = { ...run, positiveWhen, seed, level, replicates: Math.max(2, replicates) };
  return await areaUnderCurveOnThreads(rows, options);
}
