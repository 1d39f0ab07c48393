import { binomialCdf } from "../inference/index.js";
import { type PlannedInterval, plannedLimits } from "./expectedInterval.js";
import { smallestStaying } from "./smallestStaying.js";

/** A share that a study is to show to lie above a minimum. */
export interface Goal {
  readonly expected: number;
  readonly minimum: number;
  readonly interval: PlannedInterval;
  readonly level: number;
}

/** The fewest successes of n whose interval lies wholly above the minimum; n + 1 where none does. */
function neededSuccesses(n: number, { minimum, interval, level }: Goal): number {
  let low = Math.floor(n * minimum);
  let high = n + 1;
  while (high - low > 1) {
    const middle = Math.floor((low + high) / 2);
    if (plannedLimits(interval, middle, n, level)[0] > minimum) high = middle;
    else low = middle;
  }
  return high;
}

/** Exact binomial power: the chance that the lower end of the interval lies above the minimum. */
export function goalPower(n: number, goal: Goal): number {
  const needed = neededSuccesses(n, goal);
  return needed > n ? 0 : 1 - binomialCdf(needed - 1, n, goal.expected);
}

/** The smallest n from which the power of one goal stays at or above the wanted one. */
export function rowsForGoal(goal: Goal, power: number): number | null {
  return smallestStaying((n) => goalPower(n, goal) >= power, { most: 1_000_000 });
}
