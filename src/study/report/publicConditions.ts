import { rateWords, totalOf } from "../../disclosure/index.js";
import type { CoarseCondition, CoarseStudy } from "../coarse/coarseStudy.js";
import { coarseShareWith, coarseUndecided } from "../coarse/coarseUndecided.js";
import { contradictedForPublic } from "../run/contradictedRule.js";
import { limitationsOf, notRecordedWords } from "../run/limitations.js";
import { referralWords } from "../run/referralWords.js";
import { countsTable } from "./conditionTables.js";
import { intervalInWords } from "./intervalInWords.js";
import { limitsInWords } from "./limitsInWords.js";
import { coarsePredictive, predictiveTables } from "./predictiveWords.js";
import { about } from "./publicFlow.js";
import {
  coarseAccuracyTable,
  coarseCounts,
  coarseGroupsTable,
  coarseStopsTable,
  togetherNotes,
} from "./publicTables.js";
import { correctedMeans, waysOfCounting } from "./reconciliation.js";
import type { ReportBlock } from "./report.js";
import { rulesInWords } from "./ruleBlocks.js";

/** Agreement, and each confirmatory condition, in a sentence. */
export function publicHeadlines(study: CoarseStudy): string[] {
  const { protocol, agreement, conditions } = study;
  const { limits: M } = agreement.find(({ quantity }) => quantity === "M")!;
  const partly = protocol.verification !== "complete";
  return [
    `Agreement${partly ? " among the examined" : ""}: the reading minus the cycloplegic M (the spherical equivalent) is on average ${intervalInWords(M.bias, "D", 1)}; ${limitsInWords(M)}.`,
    ...conditions
      .filter(({ role }) => role === "confirmatory")
      .flatMap((condition) => [
        `${publicSentence(condition, protocol)}.`,
        ...besideRates(condition, study),
      ]),
    ...notEverybodySentences(study),
    ...conditions
      .filter(({ id }) => protocol.conditions.find((one) => one.id === id)?.choose !== undefined)
      .map(
        (condition) =>
          `${condition.title}. Whether the limit is in the right place: the rates above are those of the one fixed in advance. One chosen on these data is not for the public, as it falls on values of single children.`,
      ),
  ];
}

/** What the flow says against a protocol by which everybody was examined; none where fewer than 11 were not. */
function notEverybodySentences({ protocol, flow }: CoarseStudy): string[] {
  const unexamined = protocol.verification === "complete" ? flow?.unexamined : null;
  if (flow == null || unexamined == null || unexamined.low === 0) return [];
  return [
    `The protocol says that everybody was examined, yet ${about(unexamined)} of ${about(flow.all)} children have no finding: the rates are of the others.`,
  ];
}

/** What stands beside the rates of one condition: those without a decision, and who was examined. */
function besideRates(condition: CoarseCondition, study: CoarseStudy): string[] {
  const { protocol } = study;
  const undecided = coarseUndecided(condition, study);
  const { sensitivity, specificity, children } = undecided ?? {};
  const many = children ? ` (${children.words} children)` : "";
  const rates =
    sensitivity && specificity
      ? ` If they counted as not referred: sensitivity ${rateWords(sensitivity)}, specificity ${rateWords(specificity)}, by how many of them have the condition, which is not for the public.`
      : "";
  const sentences = [
    undecided === null
      ? ""
      : ` Those for whom the reading decides nothing${many} are left out of both rates.${rates}`,
    condition.counts !== null && protocol.verification === "partial"
      ? ` ${correctedMeans(protocol.unit)} Counts of the examined alone give other rates: of those who passed only some were examined.`
      : "",
  ].join("");
  return sentences === "" ? [] : [sentences.trimStart()];
}

/** Sensitivity and specificity of one condition as ranges. */
export function publicSentence(
  condition: CoarseCondition,
  protocol: CoarseStudy["protocol"],
): string {
  const { unit, verification } = protocol;
  const { counts, title } = condition;
  const name = `${title}, referral ${referralWords(condition)}`;
  if (counts === null) return `${name}: ${withheldWords}`;
  const rows = unit === "child" ? "children" : "eyes";
  const { examined, unexamined, rates } = counts;
  const corrected = verification === "complete" ? "" : `${waysOfCounting.corrected}, `;
  const rich = coarseShareWith(condition, protocol);
  const cases =
    rich === null
      ? ""
      : `, ${rich.cases.words} of them (${rateWords(rich.share)}) with the condition`;
  const who =
    unexamined === null
      ? `${examined.words} ${rows}${cases}`
      : `${counts.rows.words} ${rows} screened, ${examined.words} examined`;
  return `${name}, ${who}: ${corrected}sensitivity ${rateWords(rates.sensitivity)}, specificity ${rateWords(rates.specificity)}`;
}

const withheldWords =
  "not shown in a public report, because beside the other tables a small count would follow from its counts";

/** Counts, rates and what else is shown of one condition. */
export function publicConditionBlocks(
  condition: CoarseCondition,
  study: CoarseStudy,
  figures: readonly ReportBlock[],
): ReportBlock[] {
  const { protocol } = study;
  const { caution, counts, title } = condition;
  const own: ReportBlock[] =
    counts === null
      ? [paragraph(`${title}: ${withheldWords}.`)]
      : [
          countsTable(
            condition,
            coarseCounts(counts),
            study.flow === null ? togetherNotes(study) : [],
          ),
          coarseAccuracyTable(condition, counts, study),
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

/** What limits the result, of coarse counts. */
export function publicLimitations(study: CoarseStudy): string[] {
  const { protocol, conditions, agreement } = study;
  const first = conditions[0]!.counts;
  const found = limitationsOf({
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
        : `${first.unexamined.words} of ${first.rows.words} screened have no finding that decides; those who did not come may differ from those who did.`,
  });
  return [...mayContradict(study), ...found];
}

/** That a rule stands for decisions that nobody recorded; nothing where they are recorded, or everybody was examined. */
export function mayContradict({ methods, protocol }: CoarseStudy): string[] {
  const isAssumed = methods.decision === "computed" && protocol.verification !== "complete";
  return isAssumed ? [contradictedForPublic] : [];
}

function paragraph(words: string): ReportBlock {
  return { kind: "paragraph", text: words };
}
