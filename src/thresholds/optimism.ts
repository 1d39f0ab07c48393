import type { Performance } from "../accuracy/index.js";
import { InputError } from "../results/index.js";
import type { CandidateRates } from "./candidates.js";

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
