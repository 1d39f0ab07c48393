import type { TableModel } from "../../results/index.js";
import type { PublicProtocol } from "../coarse/coarseStudy.js";
import type { ConditionResult, StudyResult } from "../run/studyResult.js";
import { accuracyTable, countsTable, exactCounts } from "./conditionTables.js";
import type { ReportBlock, ReportSection } from "./report.js";
import { acceptableTable, agreementTable, eyesCounted, flowTable } from "./studyTables.js";
import { verdictSentence, verdictTables } from "./verdictWords.js";

/** How the two samples are told apart, in words. */
export function samplesWords({ samples }: Pick<PublicProtocol, "samples">): string {
  if (samples === undefined) return "";
  const how =
    samples.by !== undefined
      ? `by ${samples.by}: development ${samples.development.join(", ")}; validation ${samples.validation.join(", ")}`
      : "by files of their own";
  return `Two samples of different children, ${how}. Nothing is pooled: every number is of the development sample, unless it is said to be of the validation sample.`;
}

/** The conditions of the validation sample under names of their own: as fixed in advance, then as chosen. */
export function validationConditions({ validation }: StudyResult): ConditionResult[] {
  if (validation === undefined) return [];
  const named = (condition: ConditionResult, words: string): ConditionResult => ({
    ...condition,
    title: `${condition.title}, ${words}`,
  });
  return [
    ...validation.conditions
      .filter(({ role }) => role === "confirmatory")
      .map((one) => named(one, "validation sample")),
    ...validation.chosen.map((one) =>
      named(one, "validation sample, limit chosen on the development sample"),
    ),
  ];
}

/** What the second sample says; no section without one. */
export function validationSection(result: StudyResult): ReportSection[] {
  const { validation, protocol } = result;
  if (validation === undefined) return [];
  // the sample's own numbers in the shape of a study of one sample
  const own: StudyResult = { ...result, ...validation, protocol };
  const named = (table: TableModel): TableModel => ({
    ...table,
    title: `${table.title}, validation sample`,
  });
  const verdict = verdictSentence(own);
  return [
    {
      id: "validation",
      title: "Does it hold in other children?",
      blocks: [
        paragraph(samplesWords(protocol)),
        ...(verdict === null ? [] : [paragraph(`Validation sample. ${verdict}`)]),
        ...verdictTables(own).map(named),
        named(flowTable(own)),
        named(agreementTable(own, eyesCounted(own))),
        named(acceptableTable(own)),
        ...validationConditions(result).flatMap((condition) => [
          countsTable(condition, exactCounts(condition)),
          accuracyTable(condition, protocol),
        ]),
        { kind: "list", items: validation.limitations },
      ],
    },
  ];
}

function paragraph(text: string): ReportBlock {
  return { kind: "paragraph", text };
}
