import type { Performance } from "../accuracy/index.js";
import { normalQuantile } from "../inference/index.js";
import { type Estimate, InputError, type Undefined, undefinedBecause } from "../results/index.js";
import type { CandidateRates } from "./candidates.js";
import { type Criterion, constraintOf } from "./criterion.js";

/** Mean over replicates of the choice's rates in its replicate minus those on the original rows. */
export function optimismOf(
  choices: Float64Array,
  original: CandidateRates,
): { readonly optimism: Performance; readonly failed: number } {
  let sensitivity = 0;
  let specificity = 0;
  let used = 0;
  for (let at = 0; at < choices.length; at += 3) {
    const candidate = choices[at];
    if (Number.isNaN(candidate)) continue;
    sensitivity += choices[at + 1] - original.sensitivity[candidate];
    specificity += choices[at + 2] - original.specificity[candidate];
    used++;
  }
  if (used === 0) {
    throw new InputError("chooseThreshold requires resamples with both classes, got none");
  }
  const [a, b] = [sensitivity / used, specificity / used];
  return {
    optimism: { sensitivity: a, specificity: b, youdenIndex: a + b },
    failed: choices.length / 3 - used,
  };
}

/** Share of replicates whose choice keeps the constraint on the original rows. */
export function constraintShare(
  choices: Float64Array,
  original: CandidateRates,
  criterion: Criterion,
  level: number,
): Estimate | Undefined {
  const constraint = constraintOf(criterion);
  if (constraint === null) return undefinedBecause("the criterion sets no constraint");
  const rates = original[constraint.measure];
  let kept = 0;
  let used = 0;
  for (let at = 0; at < choices.length; at += 3) {
    if (Number.isNaN(choices[at])) continue;
    used++;
    if (rates[choices[at]] >= constraint.least - 1e-9) kept++;
  }
  const value = kept / used;
  const se = Math.sqrt((value * (1 - value)) / used);
  const reach = normalQuantile((1 + level) / 2) * se;
  return {
    kind: "estimate",
    value,
    low: Math.max(0, value - reach),
    high: Math.min(1, value + reach),
    level,
    method: "bootstrap share; the interval is its Monte Carlo error only",
    se,
  };
}
