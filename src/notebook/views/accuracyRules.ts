import type {
  Accuracy,
  AccuracyByGroup,
  ClusteredAccuracy,
  CohenKappa,
  CorrectedAccuracy,
  ImputedAccuracy,
  InconclusiveVariants,
  IndependentAccuracy,
  IndependentProportions,
  NetBenefit,
  NetBenefitComparison,
  NonInferiority,
  PairedAccuracy,
  PairedProportions,
  PredictiveValues,
  PredictiveValuesRange,
  ReferralYield,
  RelativeRates,
  StandardisedAccuracy,
  TippingPoint,
  UnreadableBounds,
  UnreadableVariants,
  VerificationBounds,
  VerificationCells,
  VerificationCount,
  VerificationWeights,
} from "../../accuracy/index.js";
import type { Estimate, OneSided, Undefined } from "../../results/index.js";
import { boundsText, pText, rateText, shareText, estimateText as text } from "./estimateText.js";
import { rule, type ViewRules } from "./view.js";

type Rate = Estimate | OneSided | Undefined;

/** "Sensitivity 96.3 % (94.0 to 97.7), specificity ...". */
function ratesText({ sensitivity, specificity }: { sensitivity: Rate; specificity: Rate }): string {
  return `Sensitivity ${rateText(sensitivity)}, specificity ${rateText(specificity)}`;
}

const measures = [
  "table",
  "sensitivity",
  "specificity",
  "positivePredictiveValue",
  "negativePredictiveValue",
  "prevalence",
  "referralRate",
];
const settings = ["level", "verification", "sampling", "statedPrevalence", "label"];

const boundsHeadline = ({
  sensitivity,
  specificity,
}: Pick<VerificationBounds, "sensitivity" | "specificity">) =>
  `Sensitivity between ${boundsText(sensitivity)}, specificity between ${boundsText(specificity)}, whatever the unknown are.`;

const byGroup = (groups: AccuracyByGroup["groups"]) =>
  groups.map(({ group, accuracy }) => `${group}: ${ratesText(accuracy)}`).join("; ");

const difference = (name: string, one: { difference: Rate }) =>
  `${name} ${rateText(one.difference)}`;

export const accuracyRules: ViewRules = {
  accuracy: rule<Accuracy>({
    headline: (result) => `${ratesText(result)}; ${result.n} rows.`,
    first: measures,
    hidden: settings,
  }),
  "clustered-accuracy": rule<ClusteredAccuracy>({
    headline: (result) => `${ratesText(result)}; ${result.n} rows of ${result.subjects} children.`,
    first: measures,
    hidden: settings,
  }),
  "weighted-accuracy": rule({
    headline: (result: { sensitivity: Rate; specificity: Rate }) =>
      `${ratesText(result)}, weighted.`,
    first: measures,
    hidden: [...settings, "seed"],
  }),
  "accuracy-by-group": rule<AccuracyByGroup>({
    headline: ({ groups }) => `${byGroup(groups)}.`,
    first: ["groups"],
    hidden: settings,
  }),
  "standardised-accuracy": rule<StandardisedAccuracy>({
    headline: (result) => `${ratesText(result)}, standardised.`,
    hidden: settings,
  }),
  "independent-accuracy": rule<IndependentAccuracy>({
    headline: ({ sensitivity, specificity }) =>
      `First minus second: ${difference("sensitivity", sensitivity)}, ${difference("specificity", specificity)}.`,
  }),
  "independent-proportions": rule<IndependentProportions>({
    headline: ({ difference: found, p }) => `Difference ${rateText(found)}, ${pText(p)}.`,
  }),
  "paired-accuracy": rule<PairedAccuracy>({
    headline: ({ sensitivity, specificity }) =>
      `First minus second: ${difference("sensitivity", sensitivity)}, ${difference("specificity", specificity)}.`,
  }),
  "paired-proportions": rule<PairedProportions>({
    headline: ({ difference: found, pMid }) =>
      `Difference ${rateText(found)}${pMid === null ? "" : `, ${pText(pMid)}`}.`,
  }),
  "relative-rates": rule<RelativeRates>({
    headline: ({ truePositiveRatio, falsePositiveRatio }) =>
      `Ratio of true referrals ${text(truePositiveRatio)}, of false referrals ${text(falsePositiveRatio)}.`,
  }),
  "corrected-accuracy": rule<CorrectedAccuracy>({
    headline: (result) =>
      `${ratesText(result)}, corrected for who was examined; among the examined ` +
      `${rateText(result.naive.sensitivity)} and ${rateText(result.naive.specificity)}.`,
    first: ["sensitivity", "specificity", "positivePredictiveValue", "negativePredictiveValue"],
    hidden: settings,
  }),
  "imputed-accuracy": rule<ImputedAccuracy>({
    headline: (result) => `${ratesText(result)}, with imputed findings.`,
    hidden: [...settings, "seed"],
  }),
  "verification-bounds": rule<VerificationBounds>({ headline: boundsHeadline }),
  "unreadable-bounds": rule<UnreadableBounds>({ headline: boundsHeadline }),
  "verification-cells": rule<VerificationCells>({
    headline: ({ n, cells }) => `${n} rows in ${cells.length} cells of decision and rule.`,
    first: ["cells"],
  }),
  "verification-count": rule<VerificationCount>({
    headline: ({ n, unverified }) =>
      `${n} rows; ${unverified.testPositive} referred and ${unverified.testNegative} passed were not examined.`,
  }),
  "verification-weights": rule<VerificationWeights>({
    headline: ({ examined, kept }) =>
      `${examined.filter(Boolean).length} of ${kept.length} rows stand for others.`,
    hidden: ["examined", "strata", "kept"],
  }),
  "tipping-point": rule<TippingPoint>({
    headline: ({ target, tippingRate }) =>
      target === null
        ? "Sensitivity by the rate of the condition among unexamined passes."
        : tippingRate === null
          ? `Sensitivity is on one side of ${shareText(target)} whatever the unexamined are.`
          : `Sensitivity falls below ${shareText(target)} where more than ${shareText(tippingRate)} of unexamined passes have the condition.`,
    first: ["rows"],
  }),
  "predictive-values": rule<PredictiveValues>({
    headline: ({ prevalence, positivePredictiveValue, negativePredictiveValue }) =>
      `${prevalence === null ? "" : `At a prevalence of ${shareText(prevalence)}: `}${rateText(positivePredictiveValue)} of referrals have the condition, ${rateText(negativePredictiveValue)} of passes have not.`,
  }),
  "predictive-values-range": rule<PredictiveValuesRange>({ headline: () => "", first: ["points"] }),
  "referral-yield": rule<ReferralYield>({
    headline: ({ counts, foundPer1000, referredPerCase }) =>
      `${counts.withCondition} of ${counts.examined} examined had the condition: found ${text(foundPer1000)} per 1000 screened, ${text(referredPerCase)} examined referrals a case.`,
    first: ["counts"],
  }),
  "net-benefit": rule<NetBenefit>({ headline: () => "", first: ["points"], hidden: ["level"] }),
  "net-benefit-comparison": rule<NetBenefitComparison>({ headline: () => "", first: ["points"] }),
  "non-inferiority": rule<NonInferiority>({
    headline: ({ conclusion, difference: found, margin }) =>
      `${conclusion[0]!.toUpperCase()}${conclusion.slice(1)}: difference ${rateText(found)}, margin ${shareText(margin)}.`,
  }),
  "cohen-kappa": rule<CohenKappa>({
    headline: ({ kappa, observed, n }) =>
      `Kappa ${text(kappa)}${observed === null ? "" : `; ${shareText(observed)} of ${n} alike`}.`,
  }),
  "unreadable-variants": rule<UnreadableVariants>({
    headline: ({ variants }) =>
      `${variants.map(({ policy, accuracy }) => `Unreadable taken as "${policy}": ${ratesText(accuracy)}`).join("; ")}.`,
    first: ["variants"],
  }),
  "inconclusive-variants": rule<InconclusiveVariants>({
    headline: ({ variants }) =>
      `${variants.map(({ policy, accuracy }) => `Inconclusive taken as "${policy}": ${ratesText(accuracy)}`).join("; ")}.`,
    first: ["variants"],
  }),
  "imperfect-reference": rule({
    headline: ({ observed }: { observed: { sensitivity: Rate; specificity: Rate } }) =>
      `${ratesText(observed)} as observed; below, what error of the reference does to them.`,
    first: ["rows"],
  }),
};
