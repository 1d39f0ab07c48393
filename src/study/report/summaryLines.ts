import { grouped } from "../../rows/index.js";
import { coarseStudy } from "../coarse/coarseStudy.js";
import { contradictedStart } from "../run/contradictedRule.js";
import type { StudyResult } from "../run/studyResult.js";
import { intervalInWords as interval } from "./intervalInWords.js";
import { endOfRangeInWords, limitsInWords } from "./limitsInWords.js";
import { publicHeadlines, publicSentence } from "./publicConditions.js";
import { namedValidation } from "./publicValidation.js";
import { conditionSentence, eyesInWords } from "./studyReport.js";
import { undecidedSentence } from "./undecidedWords.js";
import { validationConditions } from "./validationSection.js";
import { verdictSentence } from "./verdictWords.js";

/**
 * A study in four lines, one a condition and the verdict where criteria were stated, for a terminal; for the public of coarse counts.
 *
 * @param result from `runStudy`
 *
 * @example
 * import { readFileSync } from "node:fs";
 * const protocol = defineProtocol(JSON.parse(readFileSync("data/children/protocol.json", "utf8")));
 * const study = await runStudy(protocol, { folder: "data/children" });
 * summaryLines(study)[2] // => "Compared: right eyes, 538 eyes."
 */
export function summaryLines(result: StudyResult): string[] {
  const { protocol, flow, agreement, conditions } = result;
  if (protocol.audience === "public") {
    const study = coarseStudy(result);
    return [
      protocol.statement ?? protocol.title,
      ...(study.flow === null
        ? []
        : [`Children ${study.flow.all.words}, compared ${study.flow.compared.words}.`]),
      ...publicHeadlines(study),
      ...namedValidation(study).map((condition) => `${publicSentence(condition, protocol)}.`),
      ...verdictLine(study),
    ];
  }
  const box = (id: string) => flow.boxes.find((entry) => entry.id === id);
  const all = box("all");
  const excluded = flow.boxes.filter(({ role, eyes }) => role === "excluded" && eyes > 0);
  const reasons = excluded
    .map(({ label, eyes }) => `${label.toLowerCase()} ${grouped(eyes)}`)
    .join(", ");
  const M = agreement.find(({ quantity }) => quantity === "M")!.limits;
  return [
    protocol.statement ?? protocol.title,
    `Children ${grouped(all?.children ?? 0)}, eyes ${grouped(all?.eyes ?? 0)}; eyes left out: ${reasons || "none"}.`,
    `Compared: ${compared[protocol.eye]}${eyesInWords(result)}.`,
    `M, test minus reference${protocol.verification === "complete" ? "" : ", among the examined"}: bias ${interval(M.bias, "D", 1)}; ${limitsInWords(M)}. ${endOfRangeInWords(M)}`.trimEnd(),
    ...conditions.map((condition) =>
      [
        `${conditionSentence(condition, protocol)} (${condition.role}).`,
        ...present(undecidedSentence(condition, result)),
      ].join(" "),
    ),
    ...validationConditions(result).map(
      (condition) => `${conditionSentence(condition, protocol)}.`,
    ),
    ...verdictLine(result),
    ...result.limitations.filter((one) => one.startsWith(contradictedStart)),
  ];
}

const present = (sentence: string | null): string[] => (sentence === null ? [] : [sentence]);

function verdictLine(study: Parameters<typeof verdictSentence>[0]): string[] {
  const sentence = verdictSentence(study);
  return sentence === null ? [] : [sentence];
}

const compared = {
  right: "right eyes",
  left: "left eyes",
  both: "both eyes",
  worse: "both eyes for agreement, the worse eye of a child for referral",
  random: "one eye a child, drawn by the seed",
} as const;
