import type { TableModel } from "../../results/index.js";
import type { CoarseCondition, CoarseStudy } from "../coarse/coarseStudy.js";
import { publicConditionBlocks, publicLimitations } from "./publicConditions.js";
import { coarseFlowTable, coarseShareTables } from "./publicTables.js";
import type { ReportBlock, ReportSection } from "./report.js";
import { agreementTable } from "./studyTables.js";
import { samplesWords } from "./validationSection.js";
import { verdictSentence, verdictTables } from "./verdictWords.js";

/** The confirmatory conditions of the second sample, under names of their own. */
export function namedValidation({ validation }: CoarseStudy): CoarseCondition[] {
  return (validation?.conditions ?? [])
    .filter(({ role }) => role === "confirmatory")
    .map((one) => ({ ...one, title: `${one.title}, validation sample` }));
}

/** What the second sample says, of its own coarse counts; no section without one. */
export function publicValidation(study: CoarseStudy): ReportSection[] {
  const { validation, protocol } = study;
  if (validation === null) return [];
  const named = (table: TableModel): TableModel => ({
    ...table,
    title: `${table.title}, validation sample`,
  });
  const verdict = verdictSentence(validation);
  const { flow } = validation;
  return [
    {
      id: "validation",
      title: "Does it hold in other children?",
      blocks: [
        paragraph(samplesWords(protocol)),
        ...(verdict === null ? [] : [paragraph(`Validation sample. ${verdict}`)]),
        ...verdictTables(validation).map(named),
        ...(flow === null ? [] : [named(coarseFlowTable(flow, validation))]),
        named(agreementTable(validation, null)),
        ...coarseShareTables(validation).map(named),
        ...namedValidation(study).flatMap((condition) =>
          publicConditionBlocks(withoutCurve(condition), validation, []),
        ),
        { kind: "list", items: publicLimitations(validation) },
      ],
    },
  ];
}

/** Counts and rates at the limit fixed in advance, as the journal has of a second sample. */
function withoutCurve(condition: CoarseCondition): CoarseCondition {
  const { counts } = condition;
  return counts === null
    ? condition
    : { ...condition, counts: { ...counts, curve: null, groups: [] } };
}

function paragraph(text: string): ReportBlock {
  return { kind: "paragraph", text };
}
