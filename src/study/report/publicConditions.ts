import { rateWords, totalOf } from "../../disclosure/index.js";
import type { CoarseCondition, CoarseStudy } from "../coarse/coarseStudy.js";
import { limitationsOf, notRecordedWords } from "../run/limitations.js";
import { referralWords } from "../run/referralWords.js";
import { countsTable } from "./conditionTables.js";
import { intervalInWords } from "./intervalInWords.js";
import { limitsInWords } from "./limitsInWords.js";
import { coarsePredictive, predictiveTables } from "./predictiveWords.js";
import {
  coarseAccuracyTable,
  coarseCounts,
  coarseGroupsTable,
  coarseStopsTable,
} from "./publicTables.js";
import { waysOfCounting } from "./reconciliation.js";
import type { ReportBlock } from "./report.js";
import { rulesInWords } from "./ruleBlocks.js";

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

/** Counts, rates and what else is shown of one condition. */
export function publicConditionBlocks(
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

/** What limits the result, of coarse counts. */
export function publicLimitations({ protocol, conditions, agreement }: CoarseStudy): string[] {
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
