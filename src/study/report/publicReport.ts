import { journalStyleOf } from "../../protocol/index.js";
import type { FigureSpec } from "../../results/index.js";
import { percent } from "../../rows/index.js";
import type { CoarseCondition, CoarseStudy } from "../coarse/coarseStudy.js";
import { agreementByGroup } from "./agreementByGroup.js";
import { cautionsOf } from "./cautions.js";
import { coarseOutcomes, outcomesFigure, outcomesSentences, outcomesTable } from "./outcomes.js";
import { coarsePredictive, predictiveSentences } from "./predictiveWords.js";
import { decisionSources } from "./programmeSection.js";
import {
  publicConditionBlocks,
  publicHeadlines,
  mayContradict,
  publicLimitations,
  publicSentence,
} from "./publicConditions.js";
import { publicFigures } from "./publicFigures.js";
import { publicFlowFigure } from "./publicFlow.js";
import {
  coarseFlowTable,
  coarseWords,
  coarseProgrammeTables,
  coarseShareTables,
} from "./publicTables.js";
import { namedValidation, publicValidation } from "./publicValidation.js";
import type { Report, ReportBlock, ReportSection } from "./report.js";
import { notRecordedBlocks } from "./ruleBlocks.js";
import { forWhom } from "./shownMethods.js";
import { agreementTable, conditionalTables } from "./studyTables.js";
import { samplesWords } from "./validationSection.js";
import { verdictBlocks, verdictTables } from "./verdictWords.js";
import { withMethods } from "./withMethods.js";

/** The report for the public, of coarse counts alone. */
export function publicReport(study: CoarseStudy): Report {
  const { protocol, flow, agreement, conditions } = study;
  const figures = publicFigures(study);
  const outcomes = conditions
    .filter(({ role }) => role === "confirmatory")
    .slice(0, 1)
    .flatMap((condition) => {
      const own = coarseOutcomes(condition, study);
      return own === null ? [] : [{ ...own, id: condition.id }];
    });
  const onFirst = [
    ...outcomes.flatMap((one) => outcomesFigure(one, one.id)),
    ...publicFlowFigure(study),
    ...figures.agreement.filter(({ name }) => name === "difference-against-mean-M"),
    ...conditions
      .filter(({ role }) => role === "confirmatory")
      .slice(0, 1)
      .flatMap(({ id }) => figures.conditions.get(id) ?? []),
  ];
  const later = (all: readonly FigureSpec[]) => all.filter((figure) => !onFirst.includes(figure));
  const ofRole = (role: CoarseCondition["role"]) => conditions.filter((one) => one.role === role);
  const blocksOf = (role: CoarseCondition["role"]) =>
    ofRole(role).flatMap((condition) =>
      publicConditionBlocks(condition, study, later(figures.conditions.get(condition.id) ?? [])),
    );
  const exploratory = blocksOf("exploratory");
  const M = agreement.find(({ quantity }) => quantity === "M")!;
  const main: ReportSection[] = [
    {
      id: "answer",
      title: "The question and the answer",
      blocks: [
        paragraph(protocol.question),
        ...(protocol.samples === undefined ? [] : [paragraph(samplesWords(protocol))]),
        ...mayContradict(study).map(paragraph),
        ...verdictBlocks(study),
        ...[
          ...outcomes.flatMap(outcomesSentences),
          ...ofRole("confirmatory")
            .slice(0, 1)
            .flatMap((condition) => predictiveSentences(coarsePredictive(condition, protocol))),
          ...publicHeadlines(study),
          ...namedValidation(study).map((condition) => `${publicSentence(condition, protocol)}.`),
        ].map((words): ReportBlock => ({ kind: "paragraph", text: words, emphasis: "headline" })),
        paragraph(
          `Counts are rounded, and small ones hidden, to protect children (${coarseWords(study.rule)}). A rate is therefore a range: all that the rounded counts allow, which is why ranges are wide. In brackets: ${percent(protocol.level)} intervals, of a range its outermost limits.`,
        ),
        ...notRecordedBlocks(ofRole("confirmatory")),
        ...onFirst,
        ...outcomes.map(outcomesTable),
        ...verdictTables(study),
        paragraph(forWhom(protocol)),
      ],
    },
    ...programmeBlocks(study),
    {
      id: "participants",
      title: "Who was studied",
      blocks: [
        flow === null
          ? paragraph(
              `Participants: not shown, as ${protocol.samples === undefined ? "children and eyes together would say too much" : "those left out of one sample are the other"}.`,
            )
          : coarseFlowTable(flow, study),
      ],
    },
    {
      id: "agreement",
      title: "Can the reading be trusted?",
      blocks: [
        agreementTable(study, null),
        ...conditionalTables(study),
        ...coarseShareTables(study),
        ...agreementByGroup(M.subgroups),
        ...later(figures.agreement),
      ],
    },
    {
      id: "accuracy",
      title: "How often is the referral right?",
      blocks: blocksOf("confirmatory"),
    },
    ...publicValidation(study),
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
              ...exploratory,
            ],
          },
        ]),
    {
      id: "limitations",
      title: "Limitations",
      blocks: [{ kind: "list", items: publicLimitations(study) }],
    },
    {
      id: "cautions",
      title: "Before anyone acts on this",
      blocks: [{ kind: "list", items: cautionsOf(protocol) }],
    },
  ];
  const appendices: ReportSection[] = [
    {
      id: "left-out",
      title: "What the public form leaves out",
      blocks: [{ kind: "list", items: leftOut(study) }],
    },
  ];
  const sections = withMethods(main, appendices, {
    ...study,
    ...study.methods,
    areaMethod: null,
    weighted: false,
    simultaneous: null,
    sites: undefined,
  });
  return {
    kind: "report",
    style: journalStyleOf(protocol),
    title: protocol.title,
    statement: protocol.statement ?? "A research result; it says nothing about any single child.",
    caution: study.caution,
    sections,
  };
}

/** The programme in figures of coarse counts; no section where there was none. */
function programmeBlocks({ programme, protocol, conditions, rule }: CoarseStudy): ReportSection[] {
  if (programme === null) return [];
  const blocks =
    programme.kind === "withheld"
      ? [paragraph(`Not shown: ${programme.reason}.`)]
      : [
          paragraph(
            `${programme.title}. ${decisionSources[programme.source]}${
              conditions.length === 1
                ? ""
                : " Shown against the first condition only, so that nothing follows from two."
            }`,
          ),
          ...coarseProgrammeTables(programme, protocol, rule),
        ];
  return [{ id: "programme", title: "The programme in figures", blocks }];
}

/** What the journal's report of this study has and this one has not, each with the reason. */
function leftOut({ protocol, conditions, agreement }: CoarseStudy): string[] {
  const { within } = agreement.find(({ quantity }) => quantity === "M")!;
  const complete = protocol.verification === "complete";
  const shown = conditions.filter(({ counts }) => counts !== null);
  const noStops = shown.filter(({ counts }) => counts?.curve === null).map(({ title }) => title);
  const hasRules = conditions.some(({ rules }) => rules !== null);
  const hasChoice = protocol.conditions.some(({ choose }) => choose !== undefined);
  return [
    "The baseline table: ages, sites and refractions of the examined and the others are finer parts of the tables here, and small counts would follow from the difference.",
    "Cells that needed a decision, by rule: most are counts of a few rows, and rows are not children.",
    ...(within === null
      ? [
          `The share of differences within ${protocol.acceptableDifference} D: its eyes are those of the tables but for a few, who would follow from both.`,
        ]
      : []),
    "The page on which the limit is moved: every stop is a count of single children.",
    ...(noStops.length === 0
      ? []
      : [
          complete
            ? `Other limits of ${noStops.join("; ")}: two stops would hold fewer than 11 of one kind between them, or rows are eyes.`
            : `Curve, area and other limits of ${noStops.join("; ")}: among the examined alone they are biased, and corrected ones need, at every stop, how many of each decision were examined.`,
        ]),
    ...(hasChoice
      ? [
          `A limit chosen on these data${protocol.samples === undefined ? "" : ", and what it does in the validation sample"}: it falls on the value of single children.`,
        ]
      : []),
    ...(hasRules
      ? [
          "For what rules refer and what was found by each: reasons overlap, so that their counts form no tree with the tables here.",
        ]
      : []),
    "Everything stands with the exact result, which is not passed on.",
  ];
}

function paragraph(words: string): ReportBlock {
  return { kind: "paragraph", text: words };
}
