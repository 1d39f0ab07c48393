import { predictiveValuesAt } from "../../accuracy/index.js";
import { type CoarseRate, rateWords, risingRate } from "../../disclosure/index.js";
import type { Estimate, TableCell, TableModel, Undefined } from "../../results/index.js";
import { percent } from "../../rows/index.js";
import type { CoarseCondition, PublicProtocol } from "../coarse/coarseStudy.js";
import type { ConditionResult } from "../run/studyResult.js";
import { intervalInWords } from "./intervalInWords.js";
import { text } from "./tableParts.js";

type Value = Estimate | Undefined | CoarseRate | null;

/** How often the referral of one condition is right, as the report shows it. */
export interface Predictive {
  readonly title: string;
  readonly protocol: PublicProtocol;
  /** In the sample itself; null where cases are over-represented, or it is not known. */
  readonly own: Value;
  readonly points: readonly {
    readonly prevalence: number;
    readonly positive: Value;
    readonly negative: Value;
  }[];
}

export function exactPredictive(condition: ConditionResult, protocol: PublicProtocol): Predictive {
  const { title, accuracy, verification, predictive } = condition;
  const rates = verification?.corrected ?? accuracy;
  return {
    title,
    protocol,
    own: protocol.sampling === "enriched" ? null : rates.positivePredictiveValue,
    points: (predictive?.points ?? []).map((point) => ({
      prevalence: point.prevalence,
      positive: point.positivePredictiveValue,
      negative: point.negativePredictiveValue,
    })),
  };
}

/** From the two coarse rates as they are printed; none where the counts are withheld. */
export function coarsePredictive(
  { id, title, counts }: CoarseCondition,
  protocol: PublicProtocol,
): Predictive {
  const prevalences = protocol.conditions.find((one) => one.id === id)?.prevalences ?? [];
  const at = (
    measure: "positivePredictiveValue" | "negativePredictiveValue",
    prevalence: number,
  ) =>
    counts === null
      ? null
      : risingRate(
          counts.rates.sensitivity,
          counts.rates.specificity,
          (sensitivity, specificity) => {
            const found = predictiveValuesAt({ sensitivity, specificity, prevalence })[measure];
            return found.kind === "estimate" ? found.value : Number.NaN;
          },
        );
  return {
    title,
    protocol,
    own: counts?.rates.positivePredictiveValue ?? null,
    points: prevalences.map((prevalence) => ({
      prevalence,
      positive: at("positivePredictiveValue", prevalence),
      negative: at("negativePredictiveValue", prevalence),
    })),
  };
}

/** "Of those referred, 83.3 % (...) have the condition", in the sample and where it is as common as the protocol says. */
export function predictiveSentences({ title, protocol, own, points }: Predictive): string[] {
  const known = points.filter(({ positive }) => positive !== null);
  const parts = [
    ...(own === null ? [] : [`${valueWords(own)} in this sample`]),
    ...known.map(
      ({ prevalence, positive }) =>
        `${valueWords(positive)} where ${percent(prevalence)} have the condition`,
    ),
  ];
  if (parts.length > 0) {
    return [`${title}. Of those referred, the share that has the condition: ${parts.join("; ")}.`];
  }
  if (protocol.sampling !== "enriched" || points.length > 0) return [];
  return [
    `${title}. How often a referral is right cannot be said from this sample, in which cases are over-represented: it depends on how common the condition is where the referral is used, which the protocol does not name.`,
  ];
}

/** The same where it is as common as the protocol says; none where it says nothing. */
export function predictiveTables({ title, protocol, points }: Predictive): TableModel[] {
  if (points.length === 0 || points.every(({ positive }) => positive === null)) return [];
  const isCoarse = points.some(({ positive }) => positive?.kind === "coarse-rate");
  const limits = isCoarse
    ? `range (outermost ${percent(protocol.level)} limits)`
    : `${percent(protocol.level)} interval`;
  const cell = (value: Value): TableCell =>
    value === null || value.kind === "coarse-rate" ? rateWords(value) : value;
  return [
    {
      kind: "table",
      title: `How often the referral is right, by how common the condition is: ${title}`,
      columns: [
        text("With the condition"),
        { label: `Referred who have it, ${limits}`, format: "percent" },
        { label: `Passed who do not have it, ${limits}`, format: "percent" },
      ],
      rows: points.map(({ prevalence, positive, negative }) => ({
        cells: [percent(prevalence), cell(positive), cell(negative)],
      })),
      notes: [
        "By Bayes' rule from sensitivity and specificity, taken to be the same there: other ages, severities or instruments break that.",
      ],
    },
  ];
}

const valueWords = (value: Value) =>
  value === null || value.kind === "coarse-rate"
    ? rateWords(value)
    : intervalInWords(value, "%", 100);
