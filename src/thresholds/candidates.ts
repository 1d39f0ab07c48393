import type { CellCounts } from "../inference/index.js";
import { InputError } from "../results/index.js";
import { sum, withoutNoise } from "../rows/index.js";
import type { ValueCounts } from "./countByValue.js";
import type { Score } from "./criterion.js";

/** The cut-offs among which one is chosen, the strictest ("nobody") first. */
export interface Candidates {
  /** null is "nobody". */
  readonly cutOffs: readonly (number | null)[];
  /** Number of the most suspicious cells that each refers. */
  readonly through: Int32Array;
}

/** Every distinct value, or a grid of the caller's own, and "nobody". */
export function candidatesOf(
  caller: string,
  { values, positiveWhen }: Pick<ValueCounts, "values" | "positiveWhen">,
  grid?: ArrayLike<number>,
): Candidates {
  const sign = positiveWhen === "high" ? 1 : -1;
  const finite = grid === undefined ? Array.from(values) : requireGrid(caller, grid);
  const sorted = [...new Set(finite)].sort((a, b) => sign * (b - a));
  const through = new Int32Array(sorted.length + 1);
  let cell = 0;
  sorted.forEach((cutOff, at) => {
    while (cell < values.length && sign * values[cell] >= sign * cutOff) cell++;
    through[at + 1] = cell;
  });
  return { cutOffs: [null, ...sorted], through };
}

function requireGrid(caller: string, grid: ArrayLike<number>): number[] {
  const list = Array.from(grid, withoutNoise);
  if (list.length === 0 || !list.every(Number.isFinite)) {
    throw new InputError(`${caller} requires finite cutOffs, got [${list.join(", ")}]`);
  }
  return list;
}

/** Rates of every candidate in one sample. */
export interface CandidateRates {
  readonly sensitivity: Float64Array;
  readonly specificity: Float64Array;
}

export function ratesAt({ through }: Candidates, counts: CellCounts): CandidateRates {
  const sensitivity = new Float64Array(through.length);
  const specificity = new Float64Array(through.length);
  const { withCondition, withoutCondition } = counts;
  const totalWith = sum(withCondition);
  const totalWithout = sum(withoutCondition);
  let truePositive = 0;
  let falsePositive = 0;
  let cell = 0;
  for (let at = 0; at < through.length; at++) {
    for (; cell < through[at]; cell++) {
      truePositive += withCondition[cell];
      falsePositive += withoutCondition[cell];
    }
    sensitivity[at] = truePositive / totalWith;
    specificity[at] = (totalWithout - falsePositive) / totalWithout;
  }
  return { sensitivity, specificity };
}

/** One choice with its rates in the sample in which it was made. */
interface Choice {
  readonly candidate: number;
  readonly sensitivity: number;
  readonly specificity: number;
  readonly score: number;
}

/** Values closer than this are ties. */
const tie = 1e-12;

/**
 * The best candidate of one sample. Ties go to the higher sensitivity, then to the stricter
 * cut-off. null when a class is empty or no candidate meets the constraint.
 */
export function bestCandidate(
  { through }: Candidates,
  { withCondition, withoutCondition }: CellCounts,
  score: Score,
): Choice | null {
  const totalWith = sum(withCondition);
  const totalWithout = sum(withoutCondition);
  if (!(totalWith > 0 && totalWithout > 0)) return null;
  let truePositive = 0;
  let falsePositive = 0;
  let cell = 0;
  let candidate = -1;
  let best = Number.NEGATIVE_INFINITY;
  let bestTrue = 0;
  let bestFalse = 0;
  for (let at = 0; at < through.length; at++) {
    const end = through[at];
    for (; cell < end; cell++) {
      truePositive += withCondition[cell];
      falsePositive += withoutCondition[cell];
    }
    const found = score(truePositive, falsePositive, totalWith, totalWithout);
    if (
      found > best + tie ||
      (found >= best - tie && truePositive > bestTrue && best > -Infinity)
    ) {
      candidate = at;
      best = found;
      bestTrue = truePositive;
      bestFalse = falsePositive;
    }
  }
  if (candidate < 0) return null;
  return {
    candidate,
    sensitivity: bestTrue / totalWith,
    specificity: (totalWithout - bestFalse) / totalWithout,
    score: best,
  };
}
