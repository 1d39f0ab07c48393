import type { Random, ResampleUnits } from "../inference/index.js";
import { cellCounter, redrawUnits, unitSampler } from "../inference/index.js";
import { bestCandidate, type Candidates, ratesAt } from "./candidates.js";
import { type Criterion, scoreOf } from "./criterion.js";

/** Optimism-corrected sensitivity and specificity of the choice in the replicate. */
export interface NestedTask {
  readonly kind: "nested";
  readonly candidates: Candidates;
  readonly criterion: Criterion;
  readonly inner: number;
}

/** Prepares replicates that are themselves resampled, each to correct its own choice. */
export function nestedReplicate(
  units: ResampleUnits,
  { candidates, criterion, inner }: NestedTask,
) {
  const score = scoreOf("chooseThreshold", criterion);
  const draw = unitSampler(units);
  const [count, again] = [cellCounter(units), cellCounter(units)];
  const drawn = new Int32Array(units.counts.length);
  const redrawn = new Int32Array(units.counts.length);
  return (slot: Float64Array, random: Random): void => {
    slot.fill(Number.NaN);
    draw(random, drawn);
    const counts = count(drawn);
    const choice = counts && bestCandidate(candidates, counts, score);
    if (counts === null || choice === null) return;
    const own = ratesAt(candidates, counts);
    let sensitivity = 0;
    let specificity = 0;
    let used = 0;
    for (let resample = 0; resample < inner; resample++) {
      redrawUnits(units, drawn, random, redrawn);
      const resampled = again(redrawn);
      const other = resampled && bestCandidate(candidates, resampled, score);
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
