import type { Estimate, TableModel, TableRow, Undefined } from "../../results/index.js";
import { probabilityText } from "../../tables/index.js";
import type { ThresholdChoice } from "../../thresholds/index.js";
import type { ConditionResult } from "../run/studyResult.js";
import { chosenWords } from "./correctedChoices.js";
import { groupingWord } from "./groupingWord.js";
import { coverageSentence } from "./intervalCoverage.js";
import { boundsText, undecidableWords } from "./reconciliation.js";
import type { ReportBlock } from "./report.js";
import { text } from "./tableParts.js";

/** The undecided counted in each way, and the least and the greatest they allow; of complete studies. */
export function undecidedTable(condition: ConditionResult, policy: string): TableModel {
  const { variants, worstAndBest } = condition;
  const { withCondition, withoutCondition } = variants.unreadable;
  return {
    kind: "table",
    title: `Without a decision by the reading: ${condition.title}`,
    columns: [
      text("Counted as"),
      { label: "Sensitivity", format: "percent" },
      { label: "Specificity", format: "percent" },
    ],
    rows: [
      ...variants.variants.map((variant) => ({
        cells: [
          `${undecidableWords[variant.policy]}${variant.policy === policy ? " (fixed in advance)" : ""}`,
          variant.accuracy.sensitivity,
          variant.accuracy.specificity,
        ],
      })),
      {
        cells: [
          "worst to best case",
          boundsText(worstAndBest.sensitivity),
          boundsText(worstAndBest.specificity),
        ],
      },
    ],
    notes: [
      `${withCondition} with the condition and ${withoutCondition} without it could not be decided by the reading.`,
    ],
  };
}

/**
 * A limit chosen on these very data, with what that is worth. Where passes were examined in part, the one
 * that is weighted for who was examined, or why there is none: that of the examined alone would be taken
 * for more than it is.
 */
export function chosenTables(condition: ConditionResult): ReportBlock[] {
  const { title, chosen, verification, weighted } = condition;
  if (chosen === null) return [];
  if (verification === null) {
    return [chosenTable(`Limit chosen on these data: ${title}`, chosen, [])];
  }
  const corrected = weighted?.chosen ?? null;
  if (corrected?.kind === "threshold-choice") {
    const heading = `Limit chosen on these data, weighted for who was examined: ${title}`;
    return [chosenTable(heading, corrected, [])];
  }
  const reason = corrected?.reason ?? "nothing could be weighted";
  return [
    {
      kind: "paragraph",
      text: `${title}: no limit chosen on these data is shown, as one of the examined alone would not be corrected for who was examined, and there is no weighted one: ${reason}.`,
    },
  ];
}

type Measure = "sensitivity" | "specificity" | "youdenIndex";

/** The measures that have an interval. */
function estimated(
  intervals: {
    readonly [measure in Measure]: Estimate | Undefined;
  },
): { readonly [measure in Measure]?: Estimate } {
  const { sensitivity, specificity, youdenIndex } = intervals;
  return Object.fromEntries(
    Object.entries({ sensitivity, specificity, youdenIndex }).filter(
      ([, interval]) => interval.kind === "estimate",
    ),
  );
}

function chosenTable(title: string, chosen: ThresholdChoice, notes: readonly string[]): TableModel {
  const { apparent, corrected, correctedIntervals, crossValidated } = chosen;
  const measured = { ...corrected, ...estimated(correctedIntervals) };
  const intervals = Object.values(correctedIntervals).some(({ kind }) => kind === "estimate");
  const row = (
    label: string,
    performance: { readonly [measure in Measure]: number | Estimate } | null,
  ): TableRow => ({
    cells: [
      label,
      performance?.sensitivity ?? null,
      performance?.specificity ?? null,
      performance?.youdenIndex ?? null,
    ],
  });
  return {
    kind: "table",
    title,
    columns: [
      text(chosen.cutOff === null ? "Nobody referred" : `Referred at ${chosenWords(chosen)}`),
      { label: "Sensitivity", format: "percent" },
      { label: "Specificity", format: "percent" },
      { label: "Youden index", format: "proportion" },
    ],
    rows: [
      row("On the data that chose it", apparent),
      row("Corrected for optimism (bootstrap)", measured),
      row("Cross-validated by child", crossValidated),
    ],
    notes: [
      ...notes,
      "Exploratory: a limit chosen on these data is optimistic here and needs new data.",
      ...chosen.notes.filter((note) => intervals || !note.startsWith("The intervals")),
      ...(intervals
        ? [coverageSentence(["chosen"], { children: chosen.subjects ?? chosen.n })]
        : []),
    ],
  };
}

/** Accuracy in the groups of one grouping. */
export function subgroupTable(
  condition: ConditionResult,
  { by, role, result, corrected }: ConditionResult["subgroups"][number],
): TableModel {
  const test = (name: "sensitivity" | "specificity") => {
    const found = result.homogeneity[name];
    return found.kind === "undefined"
      ? `${name}: no test (${found.reason})`
      : `${name}: ${probabilityText(found.p)}`;
  };
  return {
    kind: "table",
    title: `By ${by} (${role}): ${condition.title}`,
    columns: [
      text(groupingWord(by)),
      { label: "Sensitivity", format: "percent" },
      { label: "Specificity", format: "percent" },
    ],
    rows: result.groups.map(({ group, accuracy }) => {
      const own = corrected?.find((one) => one.group === group);
      const rates = own?.corrected ?? accuracy;
      return { cells: [group, rates.sensitivity, rates.specificity] };
    }),
    notes: [
      corrected === null
        ? `Whether all groups share one rate: ${test("sensitivity")}; ${test("specificity")}.`
        : "Corrected for who was examined, group by group. No test whether all share one rate: that of the examined alone would be of children chosen in part by the reading.",
    ],
  };
}
