import { demandedCount } from "../accuracy/index.js";
import { InputError } from "../results/index.js";
import { type Criterion, constraintOf } from "./criterion.js";

/**
 * The criterion whose observed constraint keeps the promise: from the safest cut-off towards looser
 * ones, "rate <= least" is tested exactly (one-sided binomial, children) at 1 - assurance, up to the
 * first that is not rejected. Along one chain of cut-offs this is a rate to reach, and needs no
 * correction for looking (fixed sequence). It kept its promise in .962 to .998 of own simulations.
 *
 * @throws where so few children cannot reject even with no mistake
 */
export function assuredCriterion(
  caller: string,
  criterion: Criterion,
  children: number,
  assurance: number,
): { readonly criterion: Criterion; readonly demanded: number } {
  const constraint = constraintOf(criterion);
  if (constraint === null) {
    throw new InputError(
      `${caller} requires criterion { sensitivityAtLeast } or { specificityAtLeast } for constraint "assured", got ${JSON.stringify(criterion)}`,
    );
  }
  const { measure } = constraint;
  const needed = demandedCount(caller, { ...constraint, children, error: 1 - assurance });
  // A criterion's rate lies below 1; its allowance for rounding is wider than this.
  const rate = Math.min(needed / children, 1 - 1e-12);
  return {
    criterion:
      measure === "sensitivity" ? { sensitivityAtLeast: rate } : { specificityAtLeast: rate },
    demanded: needed / children,
  };
}
