import { sampleStandardDeviation } from "simple-statistics";
import { admitsRule, type GridChoice } from "./chooseOnGrid.js";
import { frontWithin } from "./frontOnGrid.js";
import { placesOf } from "./judgeRule.js";
import { scoreOfGoal } from "./ruleGoal.js";
import { type GridCounts, ratesOnGrid } from "./ruleGrid.js";

/** The rules that are compared with the chosen one. */
export interface PlateauRules {
  /** On the front and within the constraints; by rising sensitivity. */
  readonly front: readonly number[];
  /** Within the constraints, and different from the chosen rule in one limit only, by axis. */
  readonly alone: readonly (readonly number[])[];
  /** All of them, and the chosen rule first. */
  readonly all: Float64Array;
}

export function plateauRules(grid: GridCounts, choice: GridChoice, chosen: number): PlateauRules {
  // under a limit on referrals the best rule lies on the front of referrals
  const against = choice.referralRateAtMost < 1 ? "referralRate" : "specificity";
  const admitted = frontWithin(grid, against, choice.allowed).filter((rule) =>
    admitsRule(grid, choice, rule),
  );
  const places = placesOf(chosen, grid.sizes);
  const alone = grid.sizes.map((size, axis) => {
    const stride = grid.sizes.slice(axis + 1).reduce((product, other) => product * other, 1);
    return Array.from(
      { length: size },
      (_, place) => chosen + (place - places[axis]) * stride,
    ).filter((rule) => rule !== chosen && admitsRule(grid, choice, rule));
  });
  const all = new Set([chosen, ...admitted, ...alone.flat()]);
  return { front: admitted, alone, all: Float64Array.from(all) };
}

/**
 * Which of the rules cannot be told from the chosen one: the simultaneous bootstrap interval of the
 * difference in score includes zero. One critical value serves all rules, the quantile over
 * resamples of the greatest standardised deviation of any difference, so that the whole set holds
 * at the level.
 *
 * @param rates sensitivity and specificity of each rule of `all` in resample after resample
 */
export function plateauOf(
  grid: GridCounts,
  choice: GridChoice,
  rules: PlateauRules,
  rates: (replicate: number, rule: number) => readonly [number, number],
  replicates: readonly number[],
  level: number,
): { readonly within: ReadonlySet<number>; readonly criticalValue: number } {
  const score = scoreOfGoal(choice.goal);
  const own = Array.from(rules.all, (rule) => {
    const { missed, spared } = ratesOnGrid(grid, rule);
    return score(missed, spared);
  });
  const differences = replicates.map((replicate) => {
    const scores = own.map((_, at) => {
      const [sensitivity, specificity] = rates(replicate, at);
      return score(1 - sensitivity, specificity);
    });
    return scores.map((value) => value - scores[0]);
  });
  const spread = own.map((_, at) => deviation(differences.map((list) => list[at])));
  const greatest = differences
    .map((list) =>
      list.reduce(
        (most, value, at) =>
          spread[at] > 0 ? Math.max(most, Math.abs(value - (own[at] - own[0])) / spread[at]) : most,
        0,
      ),
    )
    .sort((a, b) => a - b);
  const place = Math.min(greatest.length - 1, Math.ceil(level * greatest.length) - 1);
  const criticalValue = greatest[place] ?? 0;
  const within = new Set<number>();
  rules.all.forEach((rule, at) => {
    if (own[at] - own[0] + criticalValue * spread[at] >= 0) within.add(rule);
  });
  return { within, criticalValue };
}

function deviation(values: readonly number[]): number {
  const found = values.length < 2 ? 0 : sampleStandardDeviation(values);
  return found > 1e-12 ? found : 0;
}
