import { fixed, grouped } from "../../rows/index.js";
import { numberText } from "../../tables/index.js";
import { referralWords } from "../run/referralWords.js";
import { resultsOfReading } from "../run/resultsOfReading.js";
import type { ConditionResult, StudyResult } from "../run/studyResult.js";
import { chosenWords, correctedChoices } from "./correctedChoices.js";
import { intervalInWords } from "./intervalInWords.js";
import { correctedMeans } from "./reconciliation.js";
import { allOf, rowsOf, undecidedSentence } from "./undecidedWords.js";

/** What must stand beside the rates: what "corrected" means, those without a decision, why the examined give others. */
export function besideRates(condition: ConditionResult, result: StudyResult): string[] {
  const undecided = undecidedSentence(condition, result);
  const examined = examinedSentence(condition, result);
  const { sensitivity } = condition.verification?.corrected ?? {};
  const meaning = sensitivity?.kind === "estimate" ? correctedMeans(result.protocol.unit) : null;
  const sentences = [meaning, undecided, examined, notEverybodySentence(condition, result)].filter(
    (sentence) => sentence !== null,
  );
  return sentences.length === 0 ? [] : [sentences.join(" ")];
}

/** Why the counts of the examined give other rates; null where everybody was examined, or nothing is corrected. */
function examinedSentence(
  condition: ConditionResult,
  { protocol }: Pick<StudyResult, "protocol">,
): string | null {
  const { verification } = condition;
  if (verification === null || protocol.verification !== "partial") return null;
  const { corrected } = verification;
  if (corrected.sensitivity.kind !== "estimate") return null;
  const passed = resultsOfReading(condition, protocol).find(({ reading }) => reading === "passed")!;
  const { sensitivity, specificity } = corrected.naive;
  return `Counted among the examined alone, sensitivity would be ${intervalInWords(sensitivity, "%", 100)} and specificity ${intervalInWords(specificity, "%", 100)}: of ${grouped(allOf(passed))} ${rowsOf(protocol.unit)} who passed ${grouped(passed.unexamined)} were not examined.`;
}

/** What the files say against a protocol by which everybody was examined; null where they bear it out. */
function notEverybodySentence(
  { screened, unexamined }: ConditionResult,
  { protocol }: Pick<StudyResult, "protocol">,
): string | null {
  if (protocol.verification !== "complete" || unexamined === 0) return null;
  const share = numberText(unexamined / screened, "percent");
  return `The protocol says that everybody was examined, yet ${grouped(unexamined)} of ${grouped(screened)} ${rowsOf(protocol.unit)} screened (${share}) have no finding: the rates are of the others.`;
}

/** The limit that the run chose beside the one fixed in advance, and what it is worth; none without a choice. */
export function chosenSentences(condition: ConditionResult): string[] {
  const { title, chosen, weighted, verification } = condition;
  const choice = verification === null ? chosen : (weighted?.chosen ?? null);
  if (choice?.kind !== "threshold-choice") return [];
  return correctedChoices(condition).map(
    ({ among, performance }) =>
      `${title}. Is the limit in the right place? The one fixed in advance is ${referralWords(condition)}. On these data the run itself chose ${chosenWords(choice)}${among}. ${performance} That is exploratory: whether it is the better place needs new data, and what a missed and a wrongly referred child cost.`,
  );
}

/** "Aged 8.31 years on average (standard deviation 3.02)", from the table of the baseline; null where no age is known. */
export function agesInWords({ baseline }: Pick<StudyResult, "baseline">): string | null {
  const at = baseline.rows.findIndex(({ cells }) => cells[0] === "Age, years, mean");
  const [mean, deviation] = [baseline.rows[at]?.cells[1], baseline.rows[at + 1]?.cells[1]];
  if (at < 0 || typeof mean !== "number") return null;
  const spread = typeof deviation === "number" ? ` (standard deviation ${ratio(deviation)})` : "";
  return `aged ${ratio(mean)} years on average${spread}`;
}

const ratio = (value: number) => fixed(value, Math.abs(value) < 10 ? 2 : 1);
