import { createRandom, type Random } from "../inference/random.js";
import { bestCandidate, type Candidates, ratesAt } from "./candidates.js";
import { type Criterion, scoreOf } from "./criterion.js";
import { redrawUnits, unitSampler } from "./drawUnits.js";
import { type CellCounts, cellCounter } from "./replicateCounts.js";
import type { ResampleUnits } from "./resampleUnits.js";

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
  /** Optimism-corrected sensitivity and specificity of the choice in the replicate. */
  | {
      readonly kind: "nested";
      readonly candidates: Candidates;
      readonly criterion: Criterion;
      readonly inner: number;
    };

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
  const draw = unitSampler(units);
  const drawn = new Int32Array(units.counts.length);
  const count = cellCounter(units);
  const compute = computation(task, units);
  const random = createRandom(seed);
  return (from, to) => {
    const out = new Float64Array(width * (to - from));
    for (let replicate = from; replicate < to; replicate++) {
      random.restart(seed, firstStream + replicate);
      draw(random, drawn);
      const counts = count(drawn);
      const slot = out.subarray((replicate - from) * width, (replicate - from + 1) * width);
      if (counts === null) slot.fill(Number.NaN);
      else compute(counts, slot, drawn, random);
    }
    return out;
  };
}

type Compute = (counts: CellCounts, slot: Float64Array, drawn: Int32Array, random: Random) => void;

function computation(task: ReplicateTask, units: ResampleUnits): Compute {
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
  if (task.kind === "choice") {
    return (counts, slot) => {
      const choice = bestCandidate(task.candidates, counts, score);
      slot[0] = choice?.candidate ?? Number.NaN;
      slot[1] = choice?.sensitivity ?? Number.NaN;
      slot[2] = choice?.specificity ?? Number.NaN;
    };
  }
  const again = cellCounter(units);
  const redrawn = new Int32Array(units.counts.length);
  return (counts, slot, drawn, random) => {
    slot.fill(Number.NaN);
    const choice = bestCandidate(task.candidates, counts, score);
    if (choice === null) return;
    const own = ratesAt(task.candidates, counts);
    let sensitivity = 0;
    let specificity = 0;
    let used = 0;
    for (let inner = 0; inner < task.inner; inner++) {
      redrawUnits(units, drawn, random, redrawn);
      const resampled = again(redrawn);
      const other = resampled && bestCandidate(task.candidates, resampled, score);
      if (other === null) continue;
      sensitivity += other.sensitivity - own.sensitivity[other.candidate];
      specificity += other.specificity - own.specificity[other.candidate];
      used++;
    }
    if (used === 0) return;
    slot[0] = choice.sensitivity - sensitivity / used;
    slot[1] = choice.specificity - specificity / used;
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
