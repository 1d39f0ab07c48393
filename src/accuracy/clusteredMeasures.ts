import {
  effectiveSize,
  logEstimate,
  oddsRatioScore,
  riskRatioScore,
  shareInterval,
} from "../inference/index.js";
import { type Estimate, type Undefined, undefinedBecause } from "../results/index.js";
import { type AccuracyMeasures, youdenOfRates } from "./accuracyMeasures.js";
import type { ChildTotals } from "./childTotals.js";
import {
  combined,
  type LinearShare,
  linearCovariance,
  linearShare,
  linearVariance,
  type PerCell,
  rowShares,
} from "./linearised.js";

/**
 * The ten measures with variances over children: each is linearised on the four child totals
 * (Taylor), so that sensitivity, specificity and their functions share one covariance. Proportions:
 * Wilson on the effective sample size. Ratios: log scale, factor m / (m - 1) of
 * the side with fewer children; where any cell is 0, or all children are alike and the variance is 0,
 * the score interval on effective sample sizes. Youden index: square-and-add with the correlation of the two.
 */
export function clusteredMeasures(totals: ChildTotals, level: number): AccuracyMeasures {
  const share = (name: keyof typeof rowShares) =>
    shareInterval(linearShare(totals, rowShares[name]), level);
  const sensitivity = share("sensitivity");
  const specificity = share("specificity");
  return {
    sensitivity,
    specificity,
    positivePredictiveValue: share("positivePredictiveValue"),
    negativePredictiveValue: share("negativePredictiveValue"),
    ...twoSidedMeasures(totals, sensitivity, specificity, level),
    prevalence: share("prevalence"),
    referralRate: share("referralRate"),
  };
}

/** The measures that need children with and without the condition. */
function twoSidedMeasures(
  totals: ChildTotals,
  sensitivity: Estimate | Undefined,
  specificity: Estimate | Undefined,
  level: number,
) {
  const [tp, fp, fn, tn] = totals.total;
  const withCondition = linearShare(totals, rowShares.sensitivity);
  const without = linearShare(totals, rowShares.specificity);
  const clusters = Math.min(withCondition.clusters, without.clusters);
  if (clusters < 2) {
    const missing = undefinedBecause(
      "needs rows of at least 2 children on each side of the condition",
    );
    return {
      positiveLikelihoodRatio: missing,
      negativeLikelihoodRatio: missing,
      diagnosticOddsRatio: missing,
      youdenIndex: missing,
    };
  }
  const anyCell0 = Math.min(tp, fp, fn, tn) === 0;
  const ratio = (value: number, gradient: PerCell, score: () => Estimate | Undefined) => {
    const logSe = anyCell0 ? 0 : Math.sqrt(linearVariance(totals, gradient, clusters));
    // children all alike leave a speck of rounding, not a variance
    return logSe < 1e-9 ? labelled(score()) : logEstimate(value, logSe, level, "log-clustered");
  };
  const se = tp / (tp + fn);
  const sp = tn / (tn + fp);
  const effective = effectiveCounts(withCondition, without);
  const ratios = [withCondition.gradient, without.gradient] as const;
  return {
    positiveLikelihoodRatio: ratio(
      se / (1 - sp),
      combined(ratios[0], 1 / se, ratios[1], 1 / (1 - sp)),
      () => riskRatioScore(effective.positives, level),
    ),
    negativeLikelihoodRatio: ratio(
      (1 - se) / sp,
      combined(ratios[0], -1 / (1 - se), ratios[1], -1 / sp),
      () => riskRatioScore(effective.negatives, level),
    ),
    diagnosticOddsRatio: ratio((tp * tn) / (fp * fn), [1 / tp, -1 / fp, -1 / fn, 1 / tn], () =>
      oddsRatioScore(effective.positives, level),
    ),
    youdenIndex: youden(totals, sensitivity, specificity, withCondition, without, level),
  };
}

/** The two proportions as if from as many independent rows as they are worth. */
function effectiveCounts(withCondition: LinearShare, without: LinearShare) {
  const n1 = effectiveSize(withCondition);
  const n2 = effectiveSize(without);
  const se = withCondition.successes / withCondition.trials;
  const sp = without.successes / without.trials;
  return {
    positives: { x1: se * n1, n1, x2: (1 - sp) * n2, n2 },
    negatives: { x1: (1 - se) * n1, n1, x2: sp * n2, n2 },
  };
}

const labelled = (estimate: Estimate | Undefined): Estimate | Undefined =>
  estimate.kind === "undefined" ? estimate : { ...estimate, method: "score-on-effective-size" };

function youden(
  totals: ChildTotals,
  sensitivity: Estimate | Undefined,
  specificity: Estimate | Undefined,
  withCondition: LinearShare,
  without: LinearShare,
  level: number,
): Estimate | Undefined {
  const product = Math.sqrt(
    linearCovariance(totals, withCondition.gradient, withCondition.gradient) *
      linearCovariance(totals, without.gradient, without.gradient),
  );
  const correlation =
    product > 0 ? linearCovariance(totals, withCondition.gradient, without.gradient) / product : 0;
  return youdenOfRates(sensitivity, specificity, { level, method: "mover-clustered", correlation });
}
