import { shuffleInPlace } from "simple-statistics";
import type { CrossValidated } from "../accuracy/index.js";
import type { ResampleUnits } from "../inference/index.js";
import { type CellCounts, cellCounter, createRandom } from "../inference/index.js";
import { bestCandidate, type Candidates } from "./candidates.js";
import type { Score } from "./criterion.js";

/**
 * Cross-validation with whole children in folds: the cut-off is chosen on all folds but one and
 * judged on that one; counts are added over the folds, and all is repeated with other folds.
 *
 * @param typeOfUnit each child's type among the units
 * @returns null when a training part has no choice (a class is missing in it)
 */
export function crossValidate(
  units: ResampleUnits,
  typeOfUnit: Int32Array,
  candidates: Candidates,
  score: Score,
  options: {
    readonly folds: number;
    readonly repeats: number;
    readonly seed: number;
    readonly firstStream: number;
  },
): CrossValidated | null {
  const { folds, repeats, seed, firstStream } = options;
  const random = createRandom(seed);
  const count = cellCounter(units);
  const order = [...typeOfUnit.keys()];
  const inFold = Array.from({ length: folds }, () => new Int32Array(units.counts.length));
  const training = new Int32Array(units.counts.length);
  const found = { sensitivity: [] as number[], specificity: [] as number[] };
  for (let repeat = 0; repeat < repeats; repeat++) {
    random.restart(seed, firstStream + repeat);
    shuffleInPlace(order, random.uniform);
    for (const fold of inFold) fold.fill(0);
    order.forEach((unit, place) => {
      inFold[place % folds][typeOfUnit[unit]]++;
    });
    const sums = { truePositive: 0, withCondition: 0, trueNegative: 0, withoutCondition: 0 };
    for (const fold of inFold) {
      for (let type = 0; type < training.length; type++) {
        training[type] = units.counts[type] - fold[type];
      }
      const kept = count(training);
      const choice = kept && bestCandidate(candidates, kept, score);
      if (choice === null) return null;
      const left = count(fold);
      if (left === null) return null;
      addJudged(sums, left, candidates.through[choice.candidate]);
    }
    found.sensitivity.push(sums.truePositive / sums.withCondition);
    found.specificity.push(sums.trueNegative / sums.withoutCondition);
  }
  return found;
}

function addJudged(
  sums: {
    truePositive: number;
    withCondition: number;
    trueNegative: number;
    withoutCondition: number;
  },
  { withCondition, withoutCondition }: CellCounts,
  through: number,
): void {
  for (let cell = 0; cell < withCondition.length; cell++) {
    sums.withCondition += withCondition[cell];
    sums.withoutCondition += withoutCondition[cell];
    if (cell < through) sums.truePositive += withCondition[cell];
    else sums.trueNegative += withoutCondition[cell];
  }
}
