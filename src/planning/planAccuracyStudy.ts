import { InputError } from "../results/index.js";
import type { AccuracyPlan, Wanted } from "./accuracyPlan.js";
import { completePlan } from "./completePlan.js";
import { checkedStudy, studySchemas } from "./schema.js";
import type { AccuracyStudy } from "./studies.js";
import { verifiedPlan } from "./verifiedPlan.js";

/**
 * How many children a study of referral accuracy has to screen: for intervals of sensitivity and
 * specificity of a wanted half-width, or to show with a wanted power that both exceed stated minima.
 *
 * A half-width is half the whole width of the interval that the analysis will use (Wilson by
 * default), were exactly the expected found; children from rows and prevalence as in Buderer 1996.
 * Power is exact: binomial, averaged over the numbers with and without the condition that a cohort
 * may hold; since it runs like a saw, n is the number from which it stays above. Goals are decided
 * by the lower end of the two-sided interval, both at once (no adjustment is needed where all must
 * hold). Two eyes enter by the design effect 1 + (m - 1) correlation. With `verification` only some
 * children are examined, and the interval is the corrected one of `correctVerification`.
 *
 * Rates are proportions, 0 to 1. `n` is undefined, with its reason, where no number of children is
 * enough, and where no aim is given.
 *
 * @throws when the plan has unknown members, a number out of its range, or choices that exclude one
 * another
 *
 * @example
 * planAccuracyStudy({ expected: { sensitivity: 0.9, specificity: 0.85, prevalence: 0.2 }, aim: { halfWidth: { sensitivity: 0.1 } }, interval: "wald" }).n // => 173
 * planAccuracyStudy({ expected: { sensitivity: 0.9, specificity: 0.85, prevalence: 0.2 }, aim: { halfWidth: { sensitivity: 0.1 } } }).n // => 183
 */
export function planAccuracyStudy(study: AccuracyStudy): AccuracyPlan {
  const checked = checkedStudy("planAccuracyStudy", studySchemas().accuracy, study);
  const wanted = wantedRates(checked);
  if (checked.verification !== undefined) return verifiedPlan(checked, wanted);
  return completePlan(checked, wanted);
}

function wantedRates({ aim }: AccuracyStudy): Wanted {
  if (aim === undefined) return [];
  const given = "halfWidth" in aim ? aim.halfWidth : "width" in aim ? aim.width : aim.minimum;
  const part = "width" in aim ? 0.5 : 1;
  const wanted = measures.flatMap((measure) => {
    const value = given[measure];
    return value === undefined ? [] : [{ measure, value: part * value }];
  });
  if (wanted.length > 0) return wanted;
  throw new InputError(
    "planAccuracyStudy requires an aim for sensitivity or specificity, got neither",
  );
}

const measures = ["sensitivity", "specificity"] as const;
