import { InputError } from "../results/index.js";

/** What a miss and a false referral cost, at a prevalence that is stated, not taken from the rows. */
export interface RuleCosts {
  readonly prevalence: number;
  readonly costOfMiss: number;
  readonly costOfFalseReferral: number;
}

/** What the best rule is best at. */
export type RuleGoal = "sensitivity" | "youden" | { readonly leastCost: RuleCosts };

/** What a front sets against sensitivity. */
export type FrontAgainst = "specificity" | "referralRate" | { readonly cost: RuleCosts };

/** Score of a rule, higher is better, from the shares missed and spared. */
export function scoreOfGoal(goal: RuleGoal): (missed: number, spared: number) => number {
  if (goal === "sensitivity") return (missed) => -missed;
  if (goal === "youden") return (missed, spared) => spared - missed;
  const cost = costOf(goal.leastCost);
  return (missed, spared) => -cost(missed, spared);
}

/** Cost a child screened. */
export function costOf(costs: RuleCosts): (missed: number, spared: number) => number {
  const { prevalence, costOfMiss, costOfFalseReferral } = costs;
  return (missed, spared) =>
    prevalence * missed * costOfMiss + (1 - prevalence) * (1 - spared) * costOfFalseReferral;
}

export function requireGoal(caller: string, goal: RuleGoal): void {
  if (goal === "sensitivity" || goal === "youden") return;
  if (typeof goal !== "object" || goal.leastCost === undefined) {
    throw new InputError(
      `${caller} requires goal: "sensitivity", "youden" or { leastCost }, got ${JSON.stringify(goal)}`,
    );
  }
  requireCosts(caller, goal.leastCost);
}

export function requireCosts(caller: string, costs: RuleCosts): void {
  const { prevalence, costOfMiss, costOfFalseReferral } = costs;
  if (!(prevalence > 0 && prevalence < 1)) {
    throw new InputError(`${caller} requires a prevalence between 0 and 1, got ${prevalence}`);
  }
  const finite = [costOfMiss, costOfFalseReferral].every((cost) => cost > 0 && cost < 1e300);
  if (!finite) {
    throw new InputError(
      `${caller} requires costs above 0, got ${costOfMiss} and ${costOfFalseReferral}`,
    );
  }
}
