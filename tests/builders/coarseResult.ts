import type { ConditionCell } from "../../src/study/run/studyCells.js";
import type { StudyResult } from "../../src/study/run/studyResult.js";
import { rocCurve } from "../../src/thresholds/index.js";
import { partOf } from "./partOf.js";

/** A child of an invented study: where it ends, and what is said of it there. */
export interface InventedChild {
  readonly end: "before" | "unexamined" | "undecided" | "compared";
  readonly value: number;
  readonly exam: number;
  readonly band: number;
  readonly site: string;
}

/** A limit of a condition: referred, and with it, at this value and beyond. */
export interface InventedCondition {
  readonly refer: number;
  readonly target: number;
}

export const bands = ["below 4 years", "4 to below 6 years", "6 years and older", "age not stated"];

const zero = {
  kind: "estimate",
  value: 0,
  low: -1,
  high: 1,
  level: 0.95,
  method: "exact",
} as const;
const limits = {
  bias: zero,
  sd: zero,
  lower: zero,
  upper: zero,
  percentile: { kind: "undefined", reason: "not of interest here" } as const,
  conditional: { kind: "undefined", reason: "not of interest here" } as const,
  outside: { below: 0, above: 0 },
  n: 0,
  subjects: 0,
  leads: "percentile" as const,
  coverage: 0.95,
  multiplier: 1.96,
  interval: "exact" as const,
  level: 0.95,
  notes: [],
};

/** The result of a study of these children, every one examined: by definition, one count after the other. */
export function coarseResult(
  children: readonly InventedChild[],
  conditions: readonly InventedCondition[],
): StudyResult {
  const compared = children.filter(({ end }) => end === "compared");
  const endsAt = (end: InventedChild["end"]) => children.filter((one) => one.end === end).length;
  const cellsOf = (list: readonly InventedChild[], { refer, target }: InventedCondition) =>
    (["refer", "pass"] as const).flatMap((studied) =>
      (["with", "without"] as const).map(
        (state): ConditionCell => ({
          recorded: null,
          studied,
          state,
          eyes: 1,
          children: list.filter(
            ({ value, exam }) =>
              value >= refer === (studied === "refer") && exam >= target === (state === "with"),
          ).length,
        }),
      ),
    );
  const sites = [...new Set(compared.map(({ site }) => site))].sort();
  return partOf<StudyResult>({
    kind: "study",
    version: 5,
    protocolHash: "0".repeat(64),
    caution: "Research use only.",
    astigmatism: null,
    protocol: {
      title: "Invented",
      question: "What follows?",
      audience: "public",
      unit: "child",
      eye: "worse",
      undecidable: "refer",
      verification: "complete",
      sampling: "cohort",
      level: 0.95,
      seed: 1,
      acceptableDifference: 0.5,
      subgroups: [],
      eligibility: {},
      indexTest: { description: "an invented reading", repeats: "first" },
      linkage: {},
      referenceStandard: { description: "an invented exam" },
      conditions: conditions.map(({ refer, target }, at) => ({
        id: `c${at}`,
        target: { quantity: "M", relation: ">=", limit: target },
        referWhen: { quantity: "M", relation: ">=", limit: refer },
      })),
    },
    agreement: [
      {
        quantity: "M",
        mirrored: false,
        limits: { ...limits, n: compared.length, subjects: compared.length },
        withinAcceptable: null,
        weighted: null,
        shown: { kind: "coarse-pairs", rule: { fewerThan: 11, roundTo: 5 }, cells: [] },
        subgroups: [],
      },
    ],
    conditions: conditions.map((condition, at) => {
      const cells = cellsOf(compared, condition);
      const [tp, fp, fn, tn] = cells.map((cell) => cell.children);
      const sick = compared.map(({ exam }) => exam >= condition.target);
      return {
        id: `c${at}`,
        title: `Condition ${at}`,
        role: at === 0 ? "confirmatory" : "exploratory",
        definition: "own",
        citation: null,
        caution: null,
        target: `M >= ${condition.target} D`,
        referWhen: `M >= ${condition.refer} D`,
        screened: compared.length,
        table: { truePositive: tp!, falsePositive: fp!, falseNegative: fn!, trueNegative: tn! },
        cells: {
          apart: {
            before: endsAt("before"),
            unexamined: endsAt("unexamined"),
            undecided: endsAt("undecided"),
          },
          cells,
          children: compared.length,
          knownStand: false,
        },
        accuracy: { method: "wilson" },
        verification: null,
        rules: null,
        curve:
          sick.includes(true) && sick.includes(false)
            ? rocCurve(
                { values: compared.map(({ value }) => value), condition: sick },
                { positiveWhen: "high" },
              )
            : { kind: "undefined", reason: "one class" },
        subgroups: [
          {
            by: "age",
            role: "exploratory",
            cells: bands.map((group, band) => ({
              group,
              cells: cellsOf(
                compared.filter((one) => one.band === band),
                condition,
              ),
            })),
          },
          {
            by: "site",
            role: "exploratory",
            cells: sites.map((group) => ({
              group,
              cells: cellsOf(
                compared.filter(({ site }) => site === group),
                condition,
              ),
            })),
          },
        ],
      };
    }),
  });
}
