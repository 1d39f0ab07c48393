import type { Protocol } from "../../protocol/index.js";
import { type RunOptions, type Undefined, undefinedBecause } from "../../results/index.js";
import {
  type AreaEstimate,
  areaUnderCurve,
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
  const misses = drawnMisses(
    kept.map((row) => valued.recorded[row] === "pass"),
    condition,
    weights,
  );
  if (misses !== null && misses < fewestMisses) {
    return undefinedBecause(
      `${misses} of the drawn passes ${misses === 1 ? "is" : "are"} with the condition: below ${fewestMisses} nobody knows what the missed look like`,
    );
  }
  const subjects = kept.map((row) => valued.subjects[row]);
  const { sites } = valued;
  return {
    kind: "weighted-rows",
    values: kept.map((row) => rows.values[places[row]]),
    condition,
    ...(sites === null
      ? { subjects }
      : { clusters: { subject: subjects, site: kept.map((row) => sites[row]) } }),
    examination: { examined, strata },
  };
}

/** As for a corrected sensitivity: with fewer, intervals of areas cover too little (the grid's claims in thresholds/). */
const fewestMisses = 3;

/** Passes with the condition who stand for others; null where no pass stands for anybody else. */
function drawnMisses(
  passed: readonly boolean[],
  condition: readonly boolean[],
  {
    examined,
    strata,
  }: { readonly examined: readonly boolean[]; readonly strata: readonly string[] },
): number | null {
  const open = new Set(strata.filter((_, at) => passed[at] && !examined[at]));
  const stands = (at: number) => passed[at] && examined[at] && open.has(strata[at]);
  if (open.size === 0) return null;
  return condition.filter((has, at) => has && stands(at)).length;
}

/** The area with weights estimated anew in each resample of children, or without each site. */
export async function weightedArea(
  rows: WeightedRows | Undefined,
  positiveWhen: PositiveWhen,
  { seed, level, replicates }: Protocol,
  run: RunOptions & { readonly workers?: number },
): Promise<AreaEstimate | Undefined> {
  if (rows.kind === "undefined") return rows;
  if (rows.clusters !== undefined) return areaUnderCurve(rows, { positiveWhen, level });
  const options = { ...run, positiveWhen, seed, level, replicates: Math.max(2, replicates) };
  return await areaUnderCurveOnThreads(rows, options);
}
