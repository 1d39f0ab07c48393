import { formerNames, InputError, type TwoByTwo, undefinedBecause } from "../results/index.js";
import type { NoRule, RuleConstraints } from "./bestRule.js";
import { type RulePoint, rulePoint } from "./paretoFront.js";
import type { RuleFrontsByAgeBand } from "./ruleFrontsByAgeBand.js";
import type { RuleLimits } from "./ruleSearch.js";
import { frontOf } from "./sortedFront.js";

/** A rule with limits of its own in every band. */
export interface BandedPoint extends Omit<RulePoint, "limits" | "cost"> {
  /** By band, in the order of `bands`. */
  readonly limits: readonly RuleLimits[];
}

/** The best rule with limits of its own in every band. */
export interface BestOfBands extends BandedPoint {
  readonly kind: "best-of-bands";
  readonly n: number;
  readonly bands: readonly string[];
  readonly constraints: Pick<RuleConstraints, "specificityAtLeast" | "referralRateAtMost">;
}

/** The front over all combinations of one rule a band. */
export interface BandedFront {
  readonly kind: "banded-front";
  readonly n: number;
  readonly bands: readonly string[];
  readonly against: "specificity" | "referralRate";
  /** Combinations of a rule a band that the front is the front of. */
  readonly combinations: number;
  /** By rising sensitivity. */
  readonly points: readonly BandedPoint[];
}

/**
 * The front of all rules that have limits of their own in each age band, from the bands' fronts.
 *
 * Exact: counts add over bands, so a combination with a rule that is beaten within its band is
 * itself beaten, and only sums of front rules are looked at, band after band.
 *
 * Rates are proportions, 0 to 1.
 *
 * @throws when a band's rules differ in how many children they decide (policy "exclude"), since
 *   rates then do not add up from counts
 *
 * @example
 * mergeFronts(ruleFrontsByAgeBand({ measures: { sphere: [1, 2, 3, 4] }, condition: [0, 1, 0, 1], ageMonths: [40, 40, 80, 80], limits: { sphere: [2, 4] } }, { bands: [{ fromMonths: 36, toMonths: 72 }, { fromMonths: 72, toMonths: 96 }] })).points.map(({ limits }) => limits) // => [[{ sphere: 2 }, { sphere: 4 }]]
 */
export function mergeFronts(fronts: RuleFrontsByAgeBand): BandedFront {
  const { against, bands } = fronts;
  if (bands.length === 0) throw new InputError("mergeFronts requires at least 1 band, got none");
  for (const { front } of bands) requireOneDenominator(front.points);
  let kept: Combined[] = [{ table: noRows, places: [] }];
  for (const { front } of bands) kept = extend(kept, front.points, against);
  return {
    kind: "banded-front",
    n: bands.reduce((sum, { front }) => sum + front.n, 0),
    bands: bands.map(({ label }) => label),
    against,
    combinations: bands.reduce((product, { front }) => product * front.ruleCount, 1),
    points: kept.map(({ table, places }) => ({
      ...rulePoint({}, table),
      limits: places.map((place, band) => bands[band].front.points[place].limits),
    })),
  };
}

/**
 * The rule with limits by band that is most sensitive under a constraint; ties to the higher
 * specificity.
 *
 * Rates are proportions, 0 to 1.
 *
 * @param constraints least rates over all bands together
 * @throws when the constraint is on the referral rate and the front is not, or the other way round
 *
 * @example
 * bestOfBands(mergeFronts(ruleFrontsByAgeBand({ measures: { sphere: [1, 2, 3, 4] }, condition: [0, 1, 0, 1], ageMonths: [40, 40, 80, 80], limits: { sphere: [2, 4] } }, { bands: [{ fromMonths: 36, toMonths: 72 }, { fromMonths: 72, toMonths: 96 }] })), { specificityAtLeast: 0.9 }).sensitivity // => 1
 */
export function bestOfBands(
  front: BandedFront,
  constraints: Pick<RuleConstraints, "specificityAtLeast" | "referralRateAtMost">,
): BestOfBands | NoRule {
  constraints = formerNames("bestOfBands", constraints, "constraints");
  const { specificityAtLeast, referralRateAtMost } = constraints;
  const asked = referralRateAtMost === undefined ? "specificity" : "referralRate";
  if (
    asked !== front.against ||
    (specificityAtLeast !== undefined && referralRateAtMost !== undefined)
  ) {
    throw new InputError(
      `bestOfBands requires a constraint on the front's own ${front.against}, got ${Object.keys(constraints).join(", ")}`,
    );
  }
  const admitted = front.points.filter(
    ({ specificity, referralRate }) =>
      specificity >= (specificityAtLeast ?? 0) && referralRate <= (referralRateAtMost ?? 1),
  );
  const best = admitted.at(-1);
  if (best === undefined) return undefinedBecause("no rule of the front meets the constraint");
  return { kind: "best-of-bands", n: front.n, bands: front.bands, constraints, ...best };
}

interface Combined {
  readonly table: TwoByTwo;
  readonly places: readonly number[];
}

const noRows: TwoByTwo = { truePositive: 0, falsePositive: 0, falseNegative: 0, trueNegative: 0 };

function extend(
  kept: readonly Combined[],
  points: readonly RulePoint[],
  against: BandedFront["against"],
): Combined[] {
  const size = kept.length * points.length;
  const misses = new Float64Array(size);
  const gains = new Float64Array(size);
  kept.forEach(({ table }, one) => {
    points.forEach((point, other) => {
      const at = one * points.length + other;
      const spared = table.trueNegative + point.table.trueNegative;
      misses[at] = table.falseNegative + point.table.falseNegative;
      gains[at] = against === "specificity" ? spared : spared + misses[at];
    });
  });
  return frontOf(misses, gains).map((at) => {
    const one = kept[Math.floor(at / points.length)];
    const place = at % points.length;
    return { table: sum(one.table, points[place].table), places: [...one.places, place] };
  });
}

function sum(a: TwoByTwo, b: TwoByTwo): TwoByTwo {
  return {
    truePositive: a.truePositive + b.truePositive,
    falsePositive: a.falsePositive + b.falsePositive,
    falseNegative: a.falseNegative + b.falseNegative,
    trueNegative: a.trueNegative + b.trueNegative,
  };
}

function requireOneDenominator(points: readonly RulePoint[]): void {
  const ill = points.map(({ table }) => table.truePositive + table.falseNegative);
  const well = points.map(({ table }) => table.trueNegative + table.falsePositive);
  const same = (list: readonly number[]) =>
    list.every((value) => Math.abs(value - list[0]) <= 1e-9 * Math.abs(list[0]));
  if (same(ill) && same(well)) return;
  throw new InputError(
    'mergeFronts requires rules that decide the same children, got some that exclude more; take undecidable: "refer" or "pass"',
  );
}
