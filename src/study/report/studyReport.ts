import { contradictedStart } from "../run/contradictedRule.js";
import { journalStyleOf } from "../../protocol/index.js";
import { type FlowResults, flowFigure } from "../../figures/index.js";
import type { Estimate, FigureSpec, Undefined } from "../../results/index.js";
import { fixed, grouped, percent } from "../../rows/index.js";
import { estimateDecimals, numberText } from "../../tables/index.js";
import { coarseStudy } from "../coarse/coarseStudy.js";
import { referralWords } from "../run/referralWords.js";
import { resultsOfReading } from "../run/resultsOfReading.js";
import { type ConditionResult, requireStudyResult, type StudyResult } from "../run/studyResult.js";
import { agreementByGroup } from "./agreementByGroup.js";
import { benchOf } from "./benchOf.js";
import { cautionsOf } from "./cautions.js";
import { accuracyTable, countsTable, exactCounts } from "./conditionTables.js";
import { agesInWords, besideRates, chosenSentences } from "./firstPageWords.js";
import { intervalInWords } from "./intervalInWords.js";
import { endOfRangeInWords, limitsInWords } from "./limitsInWords.js";
import { methodFacts } from "./methodsText.js";
import { exactOutcomes, outcomesFigure, outcomesSentences, outcomesTable } from "./outcomes.js";
import { exactPredictive, predictiveSentences, predictiveTables } from "./predictiveWords.js";
import { programmeSection } from "./programmeSection.js";
import { publicReport } from "./publicReport.js";
import { reconciliationTable, waysOfCounting } from "./reconciliation.js";
import { referenceErrorTable } from "./referenceErrorTable.js";
import type { Report, ReportBlock, ReportSection } from "./report.js";
import { notRecordedBlocks, ruleBlocks, rulesInWords } from "./ruleBlocks.js";
import { forWhom } from "./shownMethods.js";
import { ruleBenchBlocks } from "./ruleBenchOf.js";
import { studyFigures } from "./studyFigures.js";
import {
  acceptableTable,
  agreementTable,
  conditionalTables,
  eyesCounted,
  flowTable,
  problemsTable,
} from "./studyTables.js";
import { allOf, readingTable, rowsOf, undecidedOf } from "./undecidedWords.js";
import { samplesWords, validationConditions, validationSection } from "./validationSection.js";
import { chosenTables, subgroupTable, undecidedTable } from "./variantTables.js";
import { verdictBlocks, verdictTables } from "./verdictWords.js";
import { withMethods } from "./withMethods.js";

/**
 * The report of a study as data, from the saved result alone; for the public computed from coarse counts.
 *
 * @param result from `runStudy`, or read back from result.json
 * @throws when the result was written by a version of the library that gave it another shape
 *
 * @example
 * import { readFileSync } from "node:fs";
 * const protocol = defineProtocol(JSON.parse(readFileSync("data/children/protocol.json", "utf8")));
 * const study = await runStudy(protocol, { folder: "data/children" });
 * studyReport(study).sections[0].title // => "The question and the answer"
 */
export function studyReport(result: StudyResult): Report {
  const { protocol } = requireStudyResult("studyReport", result);
  if (protocol.audience === "public") return publicReport(coarseStudy(result));
  const figures = studyFigures(result);
  const confirmatory = result.conditions.filter(({ role }) => role === "confirmatory");
  const exploratory = result.conditions.filter(({ role }) => role === "exploratory");
  const M = figures.agreement.filter(({ name }) => name === "difference-against-mean-M");
  const accuracy = confirmatory.slice(0, 1).flatMap(({ id }) => figures.conditions.get(id) ?? []);
  const outcomes = confirmatory.slice(0, 1).flatMap((condition) => {
    const own = exactOutcomes(condition, result);
    return own === null ? [] : [own];
  });
  const first = [
    ...outcomes.flatMap((one) => outcomesFigure(one, confirmatory[0]!.id)),
    flowFigure(result.flow, { audience: "journal", results: flowResults(result, confirmatory[0]) }),
    ...M,
    ...accuracy,
  ];
  const later = (all: readonly FigureSpec[]) => all.filter((figure) => !first.includes(figure));
  const variants = result.conditions.flatMap((condition) => variantBlocks(condition, result));
  const main: ReportSection[] = [
    {
      id: "answer",
      title: "The question and the answer",
      blocks: [
        paragraph(protocol.question),
        ...(protocol.samples === undefined ? [] : [paragraph(samplesWords(protocol))]),
        ...result.limitations
          .filter((one) => one.startsWith(contradictedStart))
          .map((words): ReportBlock => ({ kind: "paragraph", text: words, emphasis: "caution" })),
        ...verdictBlocks(result),
        ...headlines(result, confirmatory, [
          ...outcomes.flatMap(outcomesSentences),
          ...confirmatory
            .slice(0, 1)
            .flatMap((condition) => predictiveSentences(exactPredictive(condition, protocol))),
        ]),
        ...notRecordedBlocks(confirmatory),
        ...first,
        ...outcomes.map(outcomesTable),
        ...verdictTables(result),
        paragraph(forWhom(protocol, agesInWords(result))),
      ],
    },
    ...programmeSection(result),
    {
      id: "participants",
      title: "Who was studied",
      blocks: [flowTable(result), result.baseline],
    },
    {
      id: "agreement",
      title: "Can the reading be trusted?",
      blocks: [
        agreementTable(result, eyesCounted(result)),
        ...conditionalTables(result),
        acceptableTable(result),
        ...agreementByGroup(result.agreement.find(({ quantity }) => quantity === "M")!.subgroups),
        ...later(figures.agreement),
      ],
    },
    {
      id: "accuracy",
      title: "How often is the referral right?",
      blocks: confirmatory.flatMap((condition) =>
        conditionBlocks(condition, later(figures.conditions.get(condition.id) ?? []), result),
      ),
    },
    ...validationSection(result),
    {
      id: "move-the-limit",
      title: "Move the limit",
      blocks: confirmatory.flatMap((condition) =>
        condition.rules !== null && condition.curve.kind === "undefined"
          ? ruleBenchBlocks(condition, result)
          : benchOf(result, condition, figures.conditions),
      ),
    },
    ...(exploratory.length === 0
      ? []
      : [
          {
            id: "exploratory",
            title: "Exploratory",
            blocks: [
              paragraph(
                "Not part of the pre-specified comparison; read with the caution beside each number.",
              ),
              ...exploratory.flatMap((condition) =>
                conditionBlocks(condition, figures.conditions.get(condition.id) ?? [], result),
              ),
            ],
          },
        ]),
    {
      id: "limitations",
      title: "Limitations",
      blocks: [{ kind: "list", items: result.limitations }],
    },
    {
      id: "cautions",
      title: "Before anyone acts on this",
      blocks: [{ kind: "list", items: cautionsOf(protocol) }],
    },
  ];
  const appendices: ReportSection[] = [
    ...(variants.length === 0
      ? []
      : [{ id: "variants", title: "Appendix: other ways of counting", blocks: variants }]),
    {
      id: "audit",
      title: "Appendix: cells that needed a decision",
      blocks: [problemsTable(result)],
    },
  ];
  const sections = withMethods(main, appendices, methodFacts(result));
  return {
    kind: "report",
    style: journalStyleOf(protocol),
    title: protocol.title,
    statement: protocol.statement ?? "A research result; it says nothing about any single child.",
    caution: result.caution,
    sections,
  };
}

function headlines(
  result: StudyResult,
  conditions: readonly ConditionResult[],
  outcomes: readonly string[],
): ReportBlock[] {
  const { limits: M, weighted } = result.agreement.find(({ quantity }) => quantity === "M")!;
  const partly = result.protocol.verification !== "complete";
  const weightedWords =
    weighted?.kind === "weighted-limits"
      ? ` Weighted for who was examined: ${intervalInWords(weighted.bias, "D", 1)}, between ${value(weighted.lower)} and ${value(weighted.upper)} D.`
      : "";
  const sentences = [
    ...outcomes,
    `Agreement${partly ? " among the examined" : ""}${eyesInWords(result)}: the reading minus the cycloplegic M (the spherical equivalent) is on average ${intervalInWords(M.bias, "D", 1)}; ${limitsInWords(M)}.${weightedWords}`,
    ...[endOfRangeInWords(M)].filter(Boolean),
    ...conditions.flatMap((condition) => [
      `${conditionSentence(condition, result.protocol)}.`,
      ...besideRates(condition, result),
    ]),
    ...conditions.flatMap(chosenSentences),
    ...validationConditions(result).map(
      (condition) => `${conditionSentence(condition, result.protocol)}.`,
    ),
  ];
  const level = percent(result.protocol.level);
  return [
    ...sentences.map((text): ReportBlock => ({ kind: "paragraph", text, emphasis: "headline" })),
    paragraph(`In brackets: ${level} intervals.`),
  ];
}

/** ", 538 eyes": how many the agreement of M is about. */
export function eyesInWords({ agreement }: StudyResult): string {
  return `, ${grouped(agreement.find(({ quantity }) => quantity === "M")!.limits.n)} eyes`;
}

/** Sensitivity, specificity and area of one condition; corrected where passes were examined in part. */
export function conditionSentence(
  condition: ConditionResult,
  { unit, sampling }: Pick<StudyResult["protocol"], "unit" | "sampling">,
): string {
  const { title, n, accuracy, table, verification, area, weighted } = condition;
  const rates = verification === null ? accuracy : verification.corrected;
  const rows = rowsOf(unit);
  const cases = table.truePositive + table.falseNegative;
  const rich =
    sampling === "enriched" && n > 0
      ? `, ${grouped(cases)} of them (${numberText(cases / n, "percent")}) with the condition`
      : "";
  const counted =
    verification === null
      ? `${grouped(n)} ${rows}${rich}`
      : `${grouped(verification.corrected.n)} ${rows} screened, ${grouped(n)} examined`;
  const corrected = verification === null ? "" : `${waysOfCounting.corrected}, `;
  const areas = [
    area.kind === "undefined" && condition.rules !== null
      ? ""
      : `; area under the curve${verification === null ? "" : " among the examined"} ${areaWords(area)}`,
    weighted?.area.kind === "estimate"
      ? `, weighted for who was examined ${areaWords(weighted.area)}`
      : "",
  ];
  return `${title}, referral ${referralWords(condition)}, ${counted}: ${corrected}sensitivity ${intervalInWords(rates.sensitivity, "%", 100)}, specificity ${intervalInWords(rates.specificity, "%", 100)}${areas.join("")}`;
}

function conditionBlocks(
  condition: ConditionResult,
  figures: readonly FigureSpec[],
  result: StudyResult,
): ReportBlock[] {
  const caution: ReportBlock[] =
    condition.caution === null
      ? []
      : [{ kind: "paragraph", text: condition.caution, emphasis: "caution" }];
  return [
    ...caution,
    ...rulesInWords(condition),
    countsTable(condition, exactCounts(condition)),
    accuracyTable(condition, result.protocol),
    ...predictiveTables(exactPredictive(condition, result.protocol)),
    ...present(referenceErrorTable(condition)),
    ...figures,
    ...ruleBlocks(condition, result),
    ...condition.subgroups.map((grouping) => subgroupTable(condition, grouping)),
    ...chosenTables(condition),
  ];
}

const readingWords = {
  referred: "Referred",
  passed: "Passed",
  undecided: "Without a decision",
} as const;

/** The first confirmatory condition by reading and exam, for the flow. */
function flowResults(
  { protocol }: StudyResult,
  condition: ConditionResult | undefined,
): FlowResults | null {
  if (condition === undefined) return null;
  const rows =
    protocol.unit === "child"
      ? "children"
      : {
          right: "right eyes",
          left: "left eyes",
          both: "eyes",
          worse: "eyes",
          random: "drawn eyes",
        }[protocol.eye];
  return {
    title: `${condition.title}: all ${grouped(condition.screened)} ${rows} screened${condition.undecidable > 0 ? ", also those without a reading" : ""}`,
    groups: resultsOfReading(condition, protocol)
      .filter((one) => one.with + one.without + one.unexamined > 0)
      .map((one) => ({
        label: readingWords[one.reading],
        total: `${grouped(allOf(one))} ${rowsOf(protocol.unit, allOf(one))}`,
        parts: [
          { label: "with the condition", count: grouped(one.with) },
          { label: "without it", count: grouped(one.without) },
          { label: "not examined", count: grouped(one.unexamined) },
        ],
      })),
  };
}

/** Every other way to count the rates of a condition; nothing where there is one way. */
function variantBlocks(condition: ConditionResult, result: StudyResult): ReportBlock[] {
  const counts =
    allOf(undecidedOf(condition, result.protocol)) > 0 ? [readingTable(condition, result)] : [];
  if (condition.verification !== null) {
    return [...present(reconciliationTable(condition, result)), ...counts];
  }
  return condition.undecidable > 0
    ? [undecidedTable(condition, result.protocol.undecidable), ...counts]
    : counts;
}

function present<Block>(block: Block | null): Block[] {
  return block === null ? [] : [block];
}

function paragraph(text: string): ReportBlock {
  return { kind: "paragraph", text };
}

/** An area with the decimals that its table prints. */
function areaWords(area: Estimate | Undefined): string {
  const width = area.kind === "estimate" ? area.high - area.low : 1;
  return intervalInWords(area, "", 1, estimateDecimals(width, "proportion") ?? 2);
}

function value(estimate: Estimate | Undefined): string {
  return estimate.kind === "undefined" ? "?" : fixed(estimate.value, 2);
}
