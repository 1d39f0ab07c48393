import { InputError } from "../../results/index.js";
import { requireShare } from "../requireTable.js";
import {
  pooledStratum,
  type VerificationCounts,
  verificationStrata,
} from "./verificationStrata.js";

/** Accuracy if the unexamined passes had the condition at one stated rate. */
export interface TippingRow {
  /** P(condition | passed, unexamined), as assumed. */
  readonly rate: number;
  readonly sensitivity: number;
  readonly specificity: number;
  readonly negativePredictiveValue: number;
}

/** How bad the unexamined passes would have to be to change the conclusion. */
export interface TippingPoint {
  readonly kind: "tipping-point";
  readonly n: number;
  /** Rate among the passes examined; null when none was. */
  readonly examinedRate: number | null;
  readonly rows: readonly TippingRow[];
  /** The sensitivity to be kept, where one was asked for. */
  readonly target: number | null;
  /** Rate above which sensitivity falls below the target; null where no rate does, or none keeps it. */
  readonly tippingRate: number | null;
}

/**
 * A table of the corrected accuracy against the unknown: the rate of the condition among the
 * passes nobody examined. Unexamined referrals are taken to be like examined ones of their stratum.
 * Point values only: compare with `correctVerification` for sampling error.
 *
 * Rates are proportions, 0 to 1.
 *
 * @param options `rates`: assumed rates, 0 to 1; by default 0, 0.005, 0.01, 0.02, 0.05, 0.1, 0.2
 * and the examined rate; `target`: a sensitivity to be kept
 * @throws when counts, rates or target are invalid, or no referral was examined
 *
 * @example
 * tippingPoint({ verified: { truePositive: 80, falsePositive: 20, falseNegative: 2, trueNegative: 98 }, unverified: { testPositive: 0, testNegative: 800 } }, { target: 0.8 }).tippingRate // => 0.0225
 */
export function tippingPoint(
  counts: VerificationCounts,
  options: { readonly rates?: ArrayLike<number>; readonly target?: number } = {},
): TippingPoint {
  const caller = "tippingPoint";
  const strata = verificationStrata(caller, counts);
  const { verified, unverified, positives, negatives, examinedNegatives } = pooledStratum(strata);
  if (strata.some((s) => s.positives > 0 && s.examinedPositives === 0)) {
    throw new InputError(`${caller} requires an examined referral in each stratum, got none`);
  }
  if (options.target !== undefined) requireShare(caller, "target", options.target);
  const examinedRate = examinedNegatives === 0 ? null : verified.falseNegative / examinedNegatives;
  const rates =
    options.rates === undefined ? defaultRates(examinedRate) : Array.from(options.rates);
  const strange = rates.find((rate) => !(rate >= 0 && rate <= 1));
  if (strange !== undefined) {
    throw new InputError(`${caller} requires rates from 0 to 1, got ${strange}`);
  }
  const truePositive = strata.reduce(
    (sum, s) =>
      s.positives === 0 ? sum : sum + (s.positives * s.verified.truePositive) / s.examinedPositives,
    0,
  );
  const falsePositive = positives - truePositive;
  const { testNegative } = unverified;
  const rows = rates.map((rate) => {
    const missed = verified.falseNegative + rate * testNegative;
    const passedRightly = negatives - missed;
    return {
      rate,
      sensitivity: ratio(truePositive, missed),
      specificity: ratio(passedRightly, falsePositive),
      negativePredictiveValue: ratio(passedRightly, missed),
    };
  });
  const target = options.target ?? null;
  const missedAtTarget = target === null ? null : (truePositive * (1 - target)) / target;
  const tipping =
    missedAtTarget === null || testNegative === 0
      ? null
      : (missedAtTarget - verified.falseNegative) / testNegative;
  return {
    kind: "tipping-point",
    n: positives + negatives,
    examinedRate,
    rows,
    target,
    tippingRate:
      tipping !== null && tipping > -1e-12 && tipping < 1 + 1e-12 ? within(tipping) : null,
  };
}

/** Binary digits of the target put a rate of exactly 0 or 1 a speck beside it. */
const within = (rate: number) => Math.min(1, Math.max(0, rate));

const ratio = (part: number, rest: number) => (part + rest === 0 ? 0 : part / (part + rest));

function defaultRates(examinedRate: number | null): number[] {
  const rates = [0, 0.005, 0.01, 0.02, 0.05, 0.1, 0.2];
  if (examinedRate !== null && !rates.includes(examinedRate)) rates.push(examinedRate);
  return rates.sort((a, b) => a - b);
}
