import type { ResampleUnits } from "../inference/index.js";
import { type CellCounts, cellSampler, createRandom, type Random } from "../inference/index.js";
import { bestCandidate, type Candidates, ratesAt } from "./candidates.js";
import { type Criterion, scoreOf } from "./criterion.js";
import { type NestedTask, nestedReplicate } from "./nestedReplicate.js";

/** What each replicate computes. */
export type ReplicateTask =
  /** The area under the curve. */
  | { readonly kind: "area" }
  /** Sensitivity and specificity at each candidate cut-off. */
  | { readonly kind: "rates"; readonly candidates: Candidates }
  /** Sensitivity at given false-positive rates, by straight lines between operating points. */
  | { readonly kind: "band"; readonly falsePositiveRates: readonly number[] }
  /** The candidate chosen, and its sensitivity and specificity in the replicate. */
  | { readonly kind: "choice"; readonly candidates: Candidates; readonly criterion: Criterion }
  | NestedTask;

/** A bootstrap as plain data; any part of it can be run anywhere. */
export interface ReplicatePlan {
  readonly seed: number;
  /** Number of the first stream: kinds of replicates that share a seed keep apart by it. */
  readonly firstStream: number;
  readonly units: ResampleUnits;
  readonly task: ReplicateTask;
}

/** Numbers that a replicate gives. */
export function widthOf(task: ReplicateTask): number {
  if (task.kind === "area") return 1;
  if (task.kind === "rates") return 2 * task.candidates.through.length;
  if (task.kind === "band") return task.falsePositiveRates.length;
  return task.kind === "choice" ? 3 : 2;
}

/**
 * Prepares a plan; the function it returns runs replicates from (included) to (excluded), each from
 * a stream of its own, so that the result does not depend on who runs which. NaN marks a replicate
 * that cannot be computed.
 */
export function replicateRunner(plan: ReplicatePlan): (from: number, to: number) => Float64Array {
  const { units, task, seed, firstStream } = plan;
  const width = widthOf(task);
  const replicateInto =
    task.kind === "nested" ? nestedReplicate(units, task) : sampled(units, task);
  const random = createRandom(seed);
  return (from, to) => {
    const out = new Float64Array(width * (to - from));
    for (let replicate = from; replicate < to; replicate++) {
      random.restart(seed, firstStream + replicate);
      replicateInto(
        out.subarray((replicate - from) * width, (replicate - from + 1) * width),
        random,
      );
    }
    return out;
  };
}

type SampledTask = Exclude<ReplicateTask, NestedTask>;

/** One resample, and what is computed from its counts. */
function sampled(units: ResampleUnits, task: SampledTask) {
  const sample = cellSampler(units);
  const compute = computation(task);
  return (slot: Float64Array, random: Random): void => {
    const counts = sample(random);
    if (counts === null) slot.fill(Number.NaN);
    else compute(counts, slot);
  };
}

function computation(task: SampledTask): (counts: CellCounts, slot: Float64Array) => void {
  if (task.kind === "area") {
    return (counts, slot) => {
      slot[0] = areaOfCells(counts);
    };
  }
  if (task.kind === "rates") {
    const { length } = task.candidates.through;
    return (counts, slot) => {
      const { sensitivity, specificity } = ratesAt(task.candidates, counts);
      slot.set(sensitivity);
      slot.set(specificity, length);
    };
  }
  if (task.kind === "band") {
    return (counts, slot) => sensitivityOfCells(counts, task.falsePositiveRates, slot);
  }
  const score = scoreOf("chooseThreshold", task.criterion);
  return (counts, slot) => {
    const choice = bestCandidate(task.candidates, counts, score);
    slot[0] = choice?.candidate ?? Number.NaN;
    slot[1] = choice?.sensitivity ?? Number.NaN;
    slot[2] = choice?.specificity ?? Number.NaN;
  };
}

/** Area from counts per cell, the most suspicious cell first. */
export function areaOfCells({ withCondition, withoutCondition }: CellCounts): number {
  let cases = 0;
  let controls = 0;
  let losses = 0;
  for (let cell = 0; cell < withCondition.length; cell++) {
    const here = withoutCondition[cell];
    losses += withCondition[cell] * (controls + here / 2);
    controls += here;
    cases += withCondition[cell];
  }
  return 1 - losses / (cases * controls);
}

/** Sensitivity at each rate, by straight lines between neighbouring operating points. */
export function sensitivityOfCells(
  { withCondition, withoutCondition }: CellCounts,
  rates: readonly number[],
  out: Float64Array,
): void {
  let cases = 0;
  let controls = 0;
  for (let cell = 0; cell < withCondition.length; cell++) {
    cases += withCondition[cell];
    controls += withoutCondition[cell];
  }
  const order = rates.map((_, at) => at).sort((a, b) => rates[a] - rates[b]);
  let cell = 0;
  let truePositive = 0;
  let falsePositive = 0;
  for (const at of order) {
    const wanted = rates[at] * controls;
    while (
      cell < withCondition.length &&
      falsePositive + withoutCondition[cell] <= wanted + 1e-9 * controls
    ) {
      truePositive += withCondition[cell];
      falsePositive += withoutCondition[cell];
      cell++;
    }
    const part =
      cell < withCondition.length
        ? Math.max(0, (wanted - falsePositive) / withoutCondition[cell]) * withCondition[cell]
        : 0;
    out[at] = (truePositive + part) / cases;
  }
}
