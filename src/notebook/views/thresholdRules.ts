import {
  cutOffFigure,
  funnelFigure,
  instrumentComparisonFigure,
  intervalMatchFigure,
  programmeComparisonFigure,
  rocFigure,
  ruleFrontFigure,
  scoreTradeoffFigure,
} from "../../figures/index.js";
import type {
  CheckedLimits,
  CheckedMean,
  IntervalMatch,
  PossibleFractions,
  ReconstructedTable,
} from "../../printed/index.js";
import {
  comparisonTable,
  type FunnelLimits,
  type ProgrammeComparison,
} from "../../programme/index.js";
import type {
  BestRule,
  RuleFront,
  RuleSpace,
  SensitivityByCondition,
} from "../../rulespace/index.js";
import { percentText } from "../../tables/index.js";
import {
  type AccuracyAtCutOffs,
  type AreaComparison,
  type AreasByAgeBand,
  type BinormalCurve,
  type InstrumentComparison,
  instrumentTable,
  type PartialArea,
  type RocCurve,
  type ScoreTradeoff,
  type SensitivityBand,
  type SeveralAreas,
  type ThresholdChoice,
  type ThresholdsByAgeBand,
  type ThresholdValidation,
} from "../../thresholds/index.js";
import { pText, rateText, shareText, estimateText as text } from "./estimateText.js";
import { rule, type ViewRules } from "./view.js";

const settings = ["level", "seed", "method"];
const rates = ({
  sensitivity,
  specificity,
}: {
  sensitivity: number;
  specificity: number;
}): string => `sensitivity ${shareText(sensitivity)}, specificity ${shareText(specificity)}`;

export const thresholdRules: ViewRules = {
  "roc-curve": rule<RocCurve>({
    headline: ({ withCondition, withoutCondition, points }) =>
      `${points.length - 1} cut-offs; ${withCondition} rows with the condition, ${withoutCondition} without.`,
    first: ["points"],
    hidden: ["weighted"],
    figure: (curve) => rocFigure(curve),
  }),
  "accuracy-at-cut-offs": rule<AccuracyAtCutOffs>({
    headline: ({ n, points }) => `${points.length} cut-offs; ${n} rows.`,
    first: ["points"],
    hidden: settings,
  }),
  "area-comparison": rule<AreaComparison>({
    headline: ({ first, second, difference, p }) =>
      `Areas ${first.toFixed(3)} and ${second.toFixed(3)}; difference ${text(difference)}${p === null ? "" : `, ${pText(p)}`}.`,
    first: ["first", "second", "difference", "p"],
  }),
  "several-areas": rule<SeveralAreas>({
    headline: ({ tests, areas, p }) =>
      `${tests.map((test, at) => `${test} ${areas[at]!.toFixed(3)}`).join(", ")}; ${pText(p)} by a test of equal areas.`,
    hidden: ["covariance"],
  }),
  "areas-by-age-band": rule<AreasByAgeBand>({
    headline: ({ bands }) =>
      `${bands.map(({ label, area }) => `${label}: area ${text(area)}`).join("; ")}.`,
    first: ["bands"],
  }),
  "partial-area": rule<PartialArea>({
    headline: ({ raw, standardised, perfect }) =>
      `Area ${raw.toFixed(4)} of at most ${perfect.toFixed(4)}; standardised ${standardised.toFixed(3)} (0.5 by chance).`,
  }),
  "binormal-curve": rule<BinormalCurve>({
    headline: ({ area, n }) => `Area ${text(area)} of the binormal curve; ${n} rows.`,
    hidden: settings,
  }),
  "sensitivity-band": rule<SensitivityBand>({ headline: () => "", first: ["points"] }),
  "threshold-choice": rule<ThresholdChoice>({
    headline: ({ words, apparent, corrected }) =>
      `Chosen on these rows: ${words}. There ${rates(apparent)}; corrected for the choice ${rates(corrected)}.`,
    first: ["table", "cutOff", "words", "corrected", "correctedIntervals", "crossValidated"],
    hidden: ["seed", "label"],
    figure: (choice) => cutOffFigure(choice),
  }),
  "threshold-validation": rule<ThresholdValidation>({
    headline: ({ words, accuracy: { sensitivity, specificity }, n }) =>
      `Fixed in advance: ${words}. Sensitivity ${rateText(sensitivity)}, specificity ${rateText(specificity)}; ${n} rows.`,
    first: ["accuracy"],
    hidden: ["label", "level"],
  }),
  "weighted-threshold-validation": rule({ headline: () => "", hidden: ["label", "level"] }),
  "thresholds-by-age-band": rule<ThresholdsByAgeBand>({
    headline: ({ bands }) =>
      `${bands.map(({ label, choice }) => `${label}: ${"words" in choice ? choice.words : "no cut-off"}`).join("; ")}.`,
    first: ["bands"],
  }),
  "score-tradeoff": rule<ScoreTradeoff>({
    headline: ({ n, subjects }) =>
      `${n} rows of ${subjects} children, by the limit on the confidence score.`,
    first: ["steps"],
    figure: (tradeoff) => scoreTradeoffFigure(tradeoff),
  }),
  "instrument-comparison": rule<InstrumentComparison>({
    headline: ({ n, subjects }) =>
      `${n} eyes of ${subjects} children; each instrument against each other.`,
    tables: (comparison) => [instrumentTable(comparison)],
    figure: (comparison) => instrumentComparisonFigure(comparison),
  }),
  "share-distributions": rule({ headline: () => "", first: ["groups"] }),
  "rule-front": rule<RuleFront>({
    headline: ({ points, ruleCount, against }) =>
      `${points.length} of ${ruleCount} rules are on the front of sensitivity against ${against}.`,
    first: ["points"],
    figure: (front) => ruleFrontFigure(front),
  }),
  "best-rule": rule<BestRule>({
    headline: (best) => `The best of ${best.ruleCount} rules: ${rates(best)}.`,
    first: ["limits", "table"],
  }),
  "rule-search": rule({
    headline: ({
      apparent,
      corrected,
      ruleCount,
    }: {
      apparent: { sensitivity: number; specificity: number };
      corrected: { sensitivity: number; specificity: number };
      ruleCount: number;
    }) =>
      `The best of ${ruleCount} rules, chosen on these rows: there ${rates(apparent)}; corrected ${rates(corrected)}.`,
    first: ["limits", "table", "apparent", "corrected", "crossValidated"],
    hidden: ["label", "seed"],
  }),
  "rule-space": rule<RuleSpace>({
    headline: ({ ruleCount, n }) => `${ruleCount} rules on ${n} rows.`,
    hidden: ["withCondition", "withoutCondition"],
  }),
  "sensitivity-by-condition": rule<SensitivityByCondition>({
    headline: ({ conditions }) =>
      `${conditions.map(({ condition, sensitivity }) => `${condition}: ${rateText(sensitivity)}`).join("; ")}.`,
    first: ["conditions"],
  }),
  ...Object.fromEntries(
    (["unique", "several", "none"] as const).map((kind) => [
      kind,
      rule<ReconstructedTable>({
        headline: ({ count, tables }) =>
          count === 0
            ? "No table of whole numbers prints so."
            : `${count === 1 ? "One table prints so" : `${count} tables print so`}: ${tables
                .slice(0, 5)
                .map(
                  ({ truePositive, falsePositive, falseNegative, trueNegative }) =>
                    `${truePositive}/${falsePositive}/${falseNegative}/${trueNegative}`,
                )
                .join(", ")} (true and false positives, false and true negatives).`,
        first: ["tables", "n"],
        hidden: ["unit", "ties", "withoutOne"],
      }),
    ]),
  ),
  "possible-fractions": rule<PossibleFractions>({
    headline: ({ printed, count }) =>
      `${count === 1 ? "One fraction prints" : `${count} fractions print`} as ${printed}.`,
    first: ["fractions"],
  }),
  "interval-match": rule<IntervalMatch>({
    headline: ({ matches, printed }) =>
      matches.length === 0
        ? `No method tried prints ${printed.low} to ${printed.high}.`
        : `${printed.low} to ${printed.high} is printed by ${matches.map(({ method, level }) => `${method} at ${percentText(level, 0)} %`).join(", ")}.`,
    first: ["matches"],
    figure: (match) => intervalMatchFigure(match),
  }),
  converted: rule({
    headline: ({ value, from, to }: { value: number; from: number; to: number }) =>
      `${value.toFixed(3)}, between ${from.toFixed(3)} and ${to.toFixed(3)} by rounding.`,
  }),
  "converted-limits": rule({ headline: () => "" }),
  "printed-limits": rule<CheckedLimits>({
    headline: ({ findings }) =>
      findings.length === 0 ? "The numbers fit together." : `${findings.join("; ")}.`,
    hidden: ["findings"],
  }),
  "printed-mean": rule<CheckedMean>({
    headline: ({ findings }) =>
      findings.length === 0 ? "The numbers fit together." : `${findings.join("; ")}.`,
    hidden: ["findings"],
  }),
  "funnel-limits": rule<FunnelLimits>({
    headline: ({ words, share, groups, by }) =>
      `${words}: ${shareText(share)} in all, ${groups.filter(({ place }) => place === "within").length} of ${groups.length} groups by ${by} within the limits.`,
    first: ["groups"],
    hidden: ["limits"],
    figure: (funnel) => funnelFigure(funnel),
  }),
  "programme-comparison": rule<ProgrammeComparison>({
    headline: () => "",
    tables: (comparison) => [comparisonTable(comparison)],
    figure: (comparison) => programmeComparisonFigure(comparison),
  }),
};
