import { journalStyleOf } from "../../protocol/index.js";
import { rateWords, totalOf } from "../../disclosure/index.js";
import type { FigureSpec } from "../../results/index.js";
import { percent } from "../../rows/index.js";
import type { CoarseCondition, CoarseStudy } from "../coarse/coarseStudy.js";
import { limitationsOf, notRecordedWords } from "../run/limitations.js";
import { referralWords } from "../run/referralWords.js";
import { agreementByGroup } from "./agreementByGroup.js";
import { cautions } from "./cautions.js";
import { countsTable } from "./conditionTables.js";
import { intervalInWords } from "./intervalInWords.js";
import { limitsInWords } from "./limitsInWords.js";
import { coarseOutcomes, outcomesFigure, outcomesSentences, outcomesTable } from "./outcomes.js";
import { coarsePredictive, predictiveSentences, predictiveTables } from "./predictiveWords.js";
import { decisionSources } from "./programmeSection.js";
import { publicFigures } from "./publicFigures.js";
import {
  coarseAccuracyTable,
  coarseCounts,
  coarseFlowTable,
  coarseGroupsTable,
  coarseProgrammeTables,
  coarseShareTables,
  coarseStopsTable,
} from "./publicTables.js";
import { waysOfCounting } from "./reconciliation.js";
import type { Report, ReportBlock, ReportSection } from "./report.js";
import { notRecordedBlocks, rulesInWords } from "./ruleBlocks.js";
import { forWhom } from "./shownMethods.js";
import { agreementTable, conditionalTables } from "./studyTables.js";
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
      conditionBlocks(condition, study, later(figures.conditions.get(condition.id) ?? [])),
    );
  const exploratory = blocksOf("exploratory");
  const M = agreement.find(({ quantity }) => quantity === "M")!;
  const main: ReportSection[] = [
    {
      id: "answer",
      title: "The question and the answer",
      blocks: [
        paragraph(protocol.question),
        ...verdictBlocks(study),
        ...[
          ...outcomes.flatMap(outcomesSentences),
          ...ofRole("confirmatory")
            .slice(0, 1)
            .flatMap((condition) => predictiveSentences(coarsePredictive(condition, protocol))),
          ...publicHeadlines(study),
        ].map((words): ReportBlock => ({ kind: "paragraph", text: words, emphasis: "headline" })),
        paragraph(
          `A rate or count that is a range holds what its coarse counts allow. In brackets: ${percent(protocol.level)} intervals, of a range its outermost limits.`,
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
          ? paragraph("Participants: not shown, as children and eyes together would say too much.")
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
      blocks: [{ kind: "list", items: cautions }],
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
      ? ["A limit chosen on these data: it falls on the value of single children."]
      : []),
    ...(hasRules
      ? [
          "For what rules refer and what was found by each: reasons overlap, so that their counts form no tree with the tables here.",
        ]
      : []),
    "Everything stands with the exact result, which is not passed on.",
  ];
}

/** Agreement, and each confirmatory condition, in a sentence. */
export function publicHeadlines({ protocol, agreement, conditions }: CoarseStudy): string[] {
  const { limits: M } = agreement.find(({ quantity }) => quantity === "M")!;
  const partly = protocol.verification !== "complete";
  return [
    `Agreement${partly ? " among the examined" : ""}: the reading minus the cycloplegic M is on average ${intervalInWords(M.bias, "D", 1)}; ${limitsInWords(M)}.`,
    ...conditions
      .filter(({ role }) => role === "confirmatory")
      .map((condition) => `${publicSentence(condition, protocol)}.`),
  ];
}

/** Sensitivity and specificity of one condition as ranges. */
export function publicSentence(
  condition: CoarseCondition,
  { unit, verification }: CoarseStudy["protocol"],
): string {
  const { counts, title } = condition;
  const name = `${title}, referral ${referralWords(condition)}`;
  if (counts === null) return `${name}: ${withheldWords}`;
  const rows = unit === "child" ? "children" : "eyes";
  const { examined, unexamined, rates } = counts;
  const corrected = verification === "complete" ? "" : `${waysOfCounting.corrected}, `;
  const who =
    unexamined === null
      ? `${examined.words} ${rows}`
      : `${totalOf([examined, unexamined]).words} ${rows} screened, ${examined.words} examined`;
  return `${name}, ${who}: ${corrected}sensitivity ${rateWords(rates.sensitivity)}, specificity ${rateWords(rates.specificity)}`;
}

const withheldWords =
  "not shown in a public report, because beside the other tables a small count would follow from its counts";

function conditionBlocks(
  condition: CoarseCondition,
  { protocol }: CoarseStudy,
  figures: readonly ReportBlock[],
): ReportBlock[] {
  const { caution, counts, title } = condition;
  const own: ReportBlock[] =
    counts === null
      ? [paragraph(`${title}: ${withheldWords}.`)]
      : [
          countsTable(condition, coarseCounts(counts.table)),
          coarseAccuracyTable(condition, counts, protocol),
          ...predictiveTables(coarsePredictive(condition, protocol)),
          ...figures,
          ...(counts.curve === null ? [] : [coarseStopsTable(title, counts.curve)]),
          ...groupBlocks(title, counts.groups, protocol),
        ];
  return [
    ...(caution === null
      ? []
      : [{ kind: "paragraph", text: caution, emphasis: "caution" } as const]),
    ...rulesInWords(condition),
    ...own,
  ];
}

/** The referral under study by group; where passes were examined in part the programme's figures are. */
function groupBlocks(
  title: string,
  groups: NonNullable<CoarseCondition["counts"]>["groups"],
  { verification }: CoarseStudy["protocol"],
): ReportBlock[] {
  if (groups.length === 0) return [];
  if (verification === "complete") {
    return groups.map((grouping) => coarseGroupsTable(title, grouping));
  }
  return [
    paragraph(
      `${title}: the referral under study is not shown by ${groups.map(({ by }) => by).join(" or ")}, as beside what the programme decided in the groups small counts would follow.`,
    ),
  ];
}

function publicLimitations({ protocol, conditions, agreement }: CoarseStudy): string[] {
  const first = conditions[0]!.counts;
  return limitationsOf({
    protocol,
    agreement,
    conditions: conditions.map(({ title, caution, counts, rules }) => {
      const of = (
        one: "truePositive" | "falsePositive",
        other: "falseNegative" | "trueNegative",
      ) => {
        if (counts === null) return null;
        const { high, words } = totalOf([counts.table[one], counts.table[other]]);
        return { most: high, words };
      };
      return {
        title,
        caution,
        withCondition: of("truePositive", "falseNegative"),
        withoutCondition: of("falsePositive", "trueNegative"),
        byAge: null,
        notRecorded: notRecordedWords(rules),
        uneven: null,
      };
    }),
    undecided: "Some of the examined",
    unexamined:
      first?.unexamined == null
        ? null
        : `${first.unexamined.words} of ${totalOf([first.examined, first.unexamined]).words} screened have no finding that decides; those who did not come may differ from those who did.`,
  });
}

function paragraph(words: string): ReportBlock {
  return { kind: "paragraph", text: words };
}
