import type { TableCell, TableModel, TableRow } from "../../results/index.js";
import type { Protocol } from "../../protocol/index.js";
import { percent } from "../../rows/index.js";
import type { ConditionWords } from "../coarse/conditionWords.js";
import type { ConditionResult } from "../run/studyResult.js";
import { waysOfCounting } from "./reconciliation.js";
import { count, text } from "./tableParts.js";

/** The four counts of a table, their sums and the whole, row by row. */
export function exactCounts({ table, n }: ConditionResult): readonly (readonly number[])[] {
  const { truePositive, falsePositive, falseNegative, trueNegative } = table;
  return [
    [truePositive, falsePositive, truePositive + falsePositive],
    [falseNegative, trueNegative, falseNegative + trueNegative],
    [truePositive + falseNegative, falsePositive + trueNegative, n],
  ];
}

/**
 * The four counts behind every rate.
 *
 * @param counts of the referred, of those who passed, of all: with, without, all
 */
export function countsTable(
  { rules, title, target, referWhen }: ConditionWords,
  [referred, passed, all]: readonly (readonly TableCell[])[],
  notes: readonly string[] = [],
): TableModel {
  return {
    kind: "table",
    title: `Counts: ${title}`,
    columns: [
      text("Reading"),
      count(`With (${rules?.condition ? "by its rule" : target} at the exam)`),
      count("Without"),
      count("All"),
    ],
    rows: [
      { cells: [`Referred (${rules?.refer ? "by its rule" : referWhen})`, ...referred!] },
      { cells: ["Passed", ...passed!] },
      { cells: ["All", ...all!] },
    ],
    notes,
  };
}

/** Rates of a confirmatory condition among several, with intervals that hold together. */
function togetherRows({ simultaneous }: ConditionResult): TableRow[] {
  if (simultaneous === undefined) return [];
  const { level, comparisons, sensitivity, specificity } = simultaneous;
  const words = `together with all ${comparisons} confirmatory rates (each interval ${percent(level)})`;
  return [
    { cells: [`Sensitivity, ${words}`, sensitivity] },
    { cells: [`Specificity, ${words}`, specificity] },
  ];
}

/** The ten measures and the area, each with its interval or the reason why there is none. */
export function accuracyTable(
  condition: ConditionResult,
  { sampling }: Pick<Protocol, "sampling">,
): TableModel {
  const { accuracy, area, weighted, verification, table, n } = condition;
  const rates = verification === null ? accuracy : verification.corrected;
  const share = (label: string, cell: TableRow["cells"][number]): TableRow => ({
    cells: [label, cell],
  });
  const ratio = (label: string, cell: TableRow["cells"][number]): TableRow => ({
    cells: [label, cell],
    format: "ratio",
  });
  return {
    kind: "table",
    title: `Accuracy${verification === null ? "" : `, ${waysOfCounting.corrected}`}: ${condition.title}`,
    columns: [
      text("Measure"),
      { label: `Estimate (${percent(accuracy.level)} interval)`, format: "percent" },
    ],
    rows: [
      share("Sensitivity", rates.sensitivity),
      share("Specificity", rates.specificity),
      ...togetherRows(condition),
      share("Positive predictive value", rates.positivePredictiveValue),
      share("Negative predictive value", rates.negativePredictiveValue),
      ...(verification === null
        ? [
            ratio("Positive likelihood ratio", accuracy.positiveLikelihoodRatio),
            ratio("Negative likelihood ratio", accuracy.negativeLikelihoodRatio),
            ratio("Diagnostic odds ratio", accuracy.diagnosticOddsRatio),
            { cells: ["Youden index", accuracy.youdenIndex], format: "proportion" as const },
            share("Prevalence in the sample", accuracy.prevalence),
            ...(sampling === "enriched" && n > 0
              ? [
                  share(
                    "With the condition, of those compared",
                    (table.truePositive + table.falseNegative) / n,
                  ),
                ]
              : []),
            share("Referral rate in the sample", accuracy.referralRate),
          ]
        : [
            share("Prevalence among the screened", rates.prevalence),
            {
              cells: [
                "With the condition per 1000 screened, if every referred were examined",
                verification.corrected.yieldPer1000,
              ],
              format: "number" as const,
            },
          ]),
      {
        cells: [
          `Area under the ROC curve${verification === null ? "" : ", among the examined"}`,
          area,
        ],
        format: "proportion",
      },
      ...(weighted === null
        ? []
        : [
            {
              cells: ["Area, weighted for who was examined", weighted.area],
              format: "proportion" as const,
            },
          ]),
    ],
    notes: verification === null ? accuracy.notes : verification.corrected.notes,
  };
}
