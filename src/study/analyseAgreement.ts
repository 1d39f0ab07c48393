import { limitsOfAgreement } from "../agreement/index.js";
import { type Cohort, eyePairs } from "../cohort/index.js";
import { plottedPoints } from "../figures/points.js";
import { proportionInterval } from "../inference/index.js";
import type { Protocol } from "../protocol/index.js";
import type { AgreementResult } from "./studyResult.js";

/** Limits of agreement of one component, test minus reference, over the protocol's eyes. */
export function analyseAgreement(
  cohort: Cohort,
  protocol: Protocol,
  quantity: "M" | "J0" | "J45",
): AgreementResult {
  const { eye, level, seed, replicates, audience, acceptableDifference } = protocol;
  const pairs = eyePairs(cohort, {
    eyes: eye === "worse" ? "both" : eye,
    quantity,
    referenceEquivalent: protocol.referenceStandard.equivalent,
  });
  const { test, reference, subjects } = pairs;
  const n = test.length;
  const differences = Float64Array.from({ length: n }, (_, row) => test[row] - reference[row]);
  const means = Float64Array.from({ length: n }, (_, row) => (test[row] + reference[row]) / 2);
  // two decimals and a little, so that a difference of exactly the limit counts as within
  const within = differences.filter((value) => Math.abs(value) <= acceptableDifference + 1e-9);
  return {
    quantity,
    limits: limitsOfAgreement({ test, reference, subjects }, { level, seed, replicates }),
    withinAcceptable:
      quantity === "M"
        ? proportionInterval({ successes: within.length, trials: n }, { level })
        : null,
    excluded: pairs.excluded,
    plotted: plottedPoints({ x: means, y: differences }, { audience, seed }),
  };
}
