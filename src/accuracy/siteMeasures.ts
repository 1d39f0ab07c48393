import { effectiveSites, type JackknifeScale, jackknifeEstimate } from "../inference/index.js";
import { type Estimate, type Undefined, undefinedBecause } from "../results/index.js";
import type { AccuracyMeasures } from "./accuracyMeasures.js";
import type { ChildTotals } from "./childTotals.js";
import { type PerCell, rowShares } from "./linearised.js";

/** A number of the four counts, in the order of `ChildTotals`; null where it has none. */
type OfCounts = (counts: readonly number[]) => number | null;

/**
 * The ten measures with sites above children, each by the delete-one-site jackknife: rates on the
 * logit scale, ratios on the logarithm, the Youden index as it is. What needs both sides of the
 * condition counts the sites of the side that has fewer of them.
 *
 * @param totals of sites, one entry a site
 */
export function siteMeasures(totals: ChildTotals, level: number): AccuracyMeasures {
  const share = (name: keyof typeof rowShares) => {
    const { numerator, denominator } = rowShares[name];
    return siteEstimate(totals, ratioOf(numerator, denominator), [denominator], "logit", level);
  };
  const sides = [rowShares.sensitivity.denominator, rowShares.specificity.denominator];
  const ofBoth = (statistic: OfCounts, scale: JackknifeScale) =>
    siteEstimate(totals, statistic, sides, scale, level);
  const quotient = (above: number, below: number) =>
    above > 0 && below > 0 ? above / below : null;
  return {
    sensitivity: share("sensitivity"),
    specificity: share("specificity"),
    positivePredictiveValue: share("positivePredictiveValue"),
    negativePredictiveValue: share("negativePredictiveValue"),
    positiveLikelihoodRatio: ofBoth(
      ([tp, fp, fn, tn]) => quotient(tp / (tp + fn), fp / (fp + tn)),
      "log",
    ),
    negativeLikelihoodRatio: ofBoth(
      ([tp, fp, fn, tn]) => quotient(fn / (tp + fn), tn / (fp + tn)),
      "log",
    ),
    diagnosticOddsRatio: ofBoth(([tp, fp, fn, tn]) => quotient(tp * tn, fp * fn), "log"),
    youdenIndex: ofBoth(([tp, fp, fn, tn]) => tp / (tp + fn) + tn / (fp + tn) - 1, "plain"),
    prevalence: share("prevalence"),
    referralRate: share("referralRate"),
  };
}

/**
 * Any number of the four counts by the jackknife over sites.
 *
 * @param denominators which cells make each denominator; the one spread over fewer sites counts
 */
export function siteEstimate(
  totals: Pick<ChildTotals, "counts" | "total">,
  statistic: OfCounts,
  denominators: readonly PerCell[],
  scale: JackknifeScale,
  level: number,
): Estimate | Undefined {
  const sites = sitesWithRows(totals.counts, denominators);
  const value = statistic(totals.total);
  if (value === null || !Number.isFinite(value)) {
    return undefinedBecause("a count of 0 leaves no value, and sites above children no interval");
  }
  const sizes = denominators.map((cells) => sites.map((one) => weighted(one, cells)));
  return jackknifeEstimate({
    value,
    leftOut: sites.map((one) => statistic(totals.total.map((total, cell) => total - one[cell]))),
    denominators: sizes.reduce((least, other) =>
      effectiveSites(other) < effectiveSites(least) ? other : least,
    ),
    scale,
    level,
  });
}

/** The four counts of each site that has a row in one of the denominators. */
function sitesWithRows(counts: ArrayLike<number>, denominators: readonly PerCell[]): number[][] {
  const sites: number[][] = [];
  for (let at = 0; at < counts.length; at += 4) {
    const one = [counts[at], counts[at + 1], counts[at + 2], counts[at + 3]];
    if (denominators.some((cells) => weighted(one, cells) > 0)) sites.push(one);
  }
  return sites;
}

const weighted = (counts: readonly number[], cells: PerCell): number =>
  cells.reduce((sum, weight, cell) => sum + weight * counts[cell], 0);

const ratioOf =
  (numerator: PerCell, denominator: PerCell): OfCounts =>
  (counts) => {
    const below = weighted(counts, denominator);
    return below === 0 ? null : weighted(counts, numerator) / below;
  };
