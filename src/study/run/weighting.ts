import type { Protocol } from "../../protocol/index.js";
import { type RunOptions, type Undefined, undefinedBecause } from "../../results/index.js";
import {
  type AreaBootstrap,
  areaUnderCurveOnThreads,
  type PositiveWhen,
  type ThresholdRows,
} from "../../thresholds/index.js";
import { rowsWhere, type VerificationRows, weightsOfRows } from "./verificationOf.js";

/** Rows of a variable of the reading, with what is known of the exam. */
export type VariableRows = VerificationRows & { readonly values: ArrayLike<number> };

type WeightedRows = ThresholdRows & { readonly kind: "weighted-rows" };

/** The rows with a value, those who may stand for others doing so within their cell. */
export function weightedRows(rows: VariableRows, protocol: Protocol): WeightedRows | Undefined {
  const places = Array.from(rows.test.keys()).filter((row) => !Number.isNaN(rows.values[row]));
  const valued = rowsWhere(rows, (row) => !Number.isNaN(rows.values[row]));
  const weights = weightsOfRows(valued, protocol);
  if ("reason" in weights) return weights;
  const { examined, strata, kept } = weights;
  const condition = kept.map((row, at) => examined[at] && valued.reference[row] === true);
  for (const known of [true, false]) {
    if (!examined.some((stands, at) => stands && condition[at] === known)) {
      return undefinedBecause(
        `none of the examined who stand for others is ${known ? "with" : "without"} the condition`,
      );
    }
  }
  return {
    kind: "weighted-rows",
    values: kept.map((row) => rows.values[places[row]]),
    condition,
    subjects: kept.map((row) => valued.subjects[row]),
    examination: { examined, strata },
  };
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
