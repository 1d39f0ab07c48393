import type {
  AxisAgreement,
  BiasBy,
  Calibration,
  ConcordanceCorrelation,
  DemingRegression,
  DifferenceRegression,
  DifferenceShares,
  GreyZone,
  IntraclassCorrelation,
  LimitsOfAgreement,
  NonparametricLimits,
  PairedTTest,
  PassingBablok,
  PredictedFinding,
  RatioLimits,
  RegressionLimits,
  Repeatability,
  SignedRankTest,
  SurveyLimits,
  VectorAgreement,
  WeightedLimits,
} from "../../agreement/index.js";
import type {
  AlignedMeasurements,
  MeasurementPairs,
  PowerVectorPairs,
} from "../../cohort/index.js";
import { biasByFigure, differenceAgainstMeanFigure } from "../../figures/index.js";
import type { SurveyEstimate } from "../../inference/index.js";
import { numberText } from "../../tables/index.js";
import { pText, rateText, estimateText as text } from "./estimateText.js";
import { vectorDifferenceFigure } from "./vectorDifferenceFigure.js";
import { areVectors, rule, type ViewRules } from "./view.js";

const settings = ["level", "coverage", "multiplier", "direction", "units", "readings", "design"];

/** The limits that lead are named first, the other ones beside them. */
function limitsHeadline(limits: LimitsOfAgreement): string {
  const { bias, lower, upper, percentile, leads, n, subjects } = limits;
  const normal = `if normal, limits ${text(lower)} and ${text(upper)}`;
  const ranked =
    percentile.kind === "undefined"
      ? `no percentile limits: ${percentile.reason}`
      : `2.5th and 97.5th percentiles ${text(percentile.lower)} and ${text(percentile.upper)}`;
  const pair = leads === "percentile" ? [ranked, normal] : [normal, ranked];
  const children = subjects === n ? "" : ` of ${subjects} children`;
  return `Bias ${text(bias)}; ${pair.join("; ")}; ${n} pairs${children}, test minus reference.`;
}

export const agreementRules: ViewRules = {
  "limits-of-agreement": rule<LimitsOfAgreement>({
    headline: limitsHeadline,
    first: ["bias", "percentile", "lower", "upper", "sd", "outside", "slope"],
    hidden: [...settings, "components", "interval", "intervalFor", "leads", "assumes"],
    figure: (limits, rows) =>
      rows === null || areVectors(rows) ? null : differenceAgainstMeanFigure(limits, rows),
  }),
  "weighted-limits": rule<WeightedLimits>({
    headline: ({ bias, lower, upper, n }) =>
      `Weighted bias ${text(bias)}; limits if normal ${text(lower)} and ${text(upper)}; ${n} examined rows.`,
    first: ["bias", "lower", "upper", "sd"],
    hidden: [...settings],
  }),
  "survey-limits": rule<SurveyLimits>({
    headline: ({ bias, lower, upper, n }) =>
      `Weighted bias ${text(bias)}; limits if normal ${text(lower)} and ${text(upper)}; ${n} rows of a survey.`,
    first: ["bias", "lower", "upper", "sd"],
    hidden: settings,
  }),
  "survey-estimate": rule<SurveyEstimate>({
    headline: ({ estimate, n, units }) =>
      `${text(estimate)}; ${n} rows of ${units} sampling units, weighted.`,
    first: ["estimate"],
  }),
  "bias-by": rule<BiasBy>({
    headline: ({ label, groups }) =>
      `Bias by ${label}: ${groups.map(({ group, bias, n }) => `${group} ${text(bias)}, n = ${n}`).join("; ")}.`,
    first: ["groups"],
    hidden: ["level"],
    figure: (result) => biasByFigure(result),
  }),
  "vector-agreement": rule<VectorAgreement>({
    headline: ({ limits, n }) =>
      `Mean difference M ${text(limits.M.bias)}, J0 ${text(limits.J0.bias)}, J45 ${text(limits.J45.bias)}; ${n} eyes.`,
    first: ["mean", "hotelling"],
    hidden: [...settings, "covariance", "meanCovariance", "ellipses", "regions", "mirrored"],
    figure: (result, rows) =>
      rows === null || !areVectors(rows) ? null : vectorDifferenceFigure(result, rows),
  }),
  "double-angle-summary": rule({
    headline: ({ mean, n }: { mean: { M: number; J0: number; J45: number }; n: number }) =>
      `Mean M ${numberText(mean.M, "dioptres")}, J0 ${numberText(mean.J0, "dioptres")}, J45 ${numberText(mean.J45, "dioptres")}; ${n} eyes.`,
    hidden: [...settings, "covariance", "ellipses", "mirrored"],
  }),
  "nonparametric-limits": rule<NonparametricLimits>({
    headline: ({ lower, upper, median, n }) =>
      `Percentile limits ${text(lower)} and ${text(upper)}, median ${text(median)}; ${n} pairs.`,
    first: ["lower", "upper", "median"],
    hidden: settings,
  }),
  "regression-limits": rule<RegressionLimits>({
    headline: ({ intercept, slope, against }) =>
      `The difference is ${text(intercept)} at a ${against} of 0 and changes by ${text(slope)} a unit.`,
    first: ["points", "intercept", "slope", "spreadIntercept", "spreadSlope"],
    hidden: [...settings, "quantiles", "replicates", "seed"],
  }),
  "ratio-limits": rule<RatioLimits>({
    headline: ({ ratio, lower, upper }) =>
      `Test over reference ${text(ratio)}; limits ${text(lower)} and ${text(upper)}.`,
    hidden: ["log", "level"],
  }),
  "paired-t-test": rule<PairedTTest>({
    headline: ({ p, n }) => `${pText(p)} by a paired t test of no mean difference; ${n} pairs.`,
  }),
  "signed-rank-test": rule<SignedRankTest>({
    headline: ({ p, n }) => `${pText(p)} by the signed-rank test; ${n} pairs.`,
  }),
  "passing-bablok": rule<PassingBablok>({
    headline: ({ slope, intercept }) => `Slope ${text(slope)}, intercept ${text(intercept)}.`,
    first: ["slope", "intercept", "linearity"],
  }),
  "deming-regression": rule<DemingRegression>({
    headline: ({ slope, intercept }) => `Slope ${text(slope)}, intercept ${text(intercept)}.`,
    first: ["slope", "intercept"],
  }),
  "difference-regression": rule<DifferenceRegression>({
    headline: ({ coefficients }) =>
      `The difference changes with ${coefficients
        .slice(1)
        .map(({ name, estimate }) => `${name} by ${text(estimate)} a unit`)
        .join(", with ")}.`,
    first: ["coefficients"],
  }),
  "concordance-correlation": rule<ConcordanceCorrelation>({
    headline: ({ estimate, n }) => `Concordance correlation ${text(estimate)}; ${n} pairs.`,
  }),
  "intraclass-correlation": rule<IntraclassCorrelation>({
    headline: ({ form, estimate, n, k }) =>
      `${form} ${text(estimate)}; ${n} rows of ${k} readings.`,
  }),
  repeatability: rule<Repeatability>({
    headline: ({ withinSd, coefficient, units }) =>
      `Within-eye SD ${text(withinSd)}; two readings differ by less than ${text(coefficient)} in 95 of 100 pairs; ${units} eyes.`,
    first: ["withinSd", "coefficient"],
  }),
  "difference-shares": rule<DifferenceShares>({
    headline: ({ shares, n }) =>
      `${shares.map(({ acceptable, within }) => `Within ${acceptable}: ${rateText(within)}`).join("; ")}; ${n} pairs.`,
  }),
  "grey-zone": rule<GreyZone>({
    headline: ({ share, misclassifiedInside, misclassifiedOutside, margin }) =>
      `${rateText(share)} within ${margin} of the limit; decided otherwise than by the reference: ` +
      `${rateText(misclassifiedInside)} of those, ${rateText(misclassifiedOutside)} of the others.`,
  }),
  calibration: rule<Calibration>({
    headline: ({ intercept, slope, coverage }) =>
      `Finding = ${text(intercept)} + ${text(slope)} times the reading; cross-validated coverage ${rateText(coverage)}. A research estimate.`,
    first: ["ranges"],
  }),
  "predicted-finding": rule<PredictedFinding>({
    headline: ({ value, low, high, label }) =>
      `${numberText(value, "dioptres")}${low === null || high === null ? "" : `, ${numberText(low, "dioptres")} to ${numberText(high, "dioptres")}`}: a ${label}, not a finding.`,
  }),
  "axis-agreement": rule<AxisAgreement>({
    headline: ({ cylinder, axisDifference, axisRows, cylinderAtLeast }) =>
      `Cylinder: bias ${text(cylinder.bias)}. Axis: ${"reason" in axisDifference ? axisDifference.reason : `median difference ${axisDifference.median} degrees`}, ${axisRows} pairs with ${cylinderAtLeast} D or more on both sides.`,
    first: ["within", "axisDifference"],
    hidden: ["level"],
  }),
  "folded-distribution": rule({ headline: () => "", hidden: ["direction"] }),
  ellipse: rule({ headline: () => "" }),
  "examined-region": rule({ headline: () => "", hidden: ["measures", "condition"] }),
  "eye-pairs": rule({
    headline: ({ n, children, quantity }: { n: number; children: number; quantity: string }) =>
      `${n} pairs of ${quantity}, ${children} children.`,
    hidden: ["test", "reference", "subjects", "eye"],
  }),
  "power-vector-pairs": rule<PowerVectorPairs>({
    headline: ({ n, children }) => `${n} pairs of power vectors, ${children} children.`,
    hidden: ["test", "reference", "subjects", "eyes", "ageYears"],
  }),
  "measurement-pairs": rule<MeasurementPairs>({
    headline: ({ n, children, quantity, names }) =>
      `${n} pairs of ${quantity}, ${names.first} minus ${names.second}, ${children} children.`,
    hidden: ["names", "quantity"],
  }),
  "aligned-measurements": rule<AlignedMeasurements>({
    headline: ({ n, children, quantity, values }) =>
      `${quantity} of ${n} eyes of ${children} children by ${Object.keys(values).join(", ")}.`,
    hidden: ["values", "repeats", "eye"],
  }),
  "child-values": rule({
    headline: ({ n, quantity, eye }: { n: number; quantity: string; eye: string }) =>
      `${n} children, ${quantity} of the ${eye} eye.`,
    hidden: ["test", "reference", "subjects"],
  }),
};
