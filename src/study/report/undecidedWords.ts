import type { Estimate, TableModel, Undefined } from "../../results/index.js";
import { grouped, sum } from "../../rows/index.js";
import { policyWords } from "../run/referralWords.js";
import { type ReadingResult, resultsOfReading } from "../run/resultsOfReading.js";
import type { ConditionResult, StudyResult } from "../run/studyResult.js";
import { intervalInWords } from "./intervalInWords.js";
import { count, text } from "./tableParts.js";

type Studied = Pick<StudyResult, "protocol">;
type Unit = StudyResult["protocol"]["unit"];

export const rowsOf = (unit: Unit, rows = 2): string =>
  unit === "child" ? (rows === 1 ? "child" : "children") : rows === 1 ? "eye" : "eyes";

/**
 * How many the reading does not decide, how many of them have the condition, and what both rates are if they
 * count as not referred (as referred, where the protocol counts them as passed); null where nobody is undecided.
 */
export function undecidedSentence(
  condition: ConditionResult,
  { protocol }: Studied,
): string | null {
  const undecided = undecidedOf(condition, protocol);
  const n = allOf(undecided);
  if (n === 0) return null;
  const parts = [
    `${grouped(undecided.with)} with the condition`,
    `${grouped(undecided.without)} without it`,
    ...(undecided.unexamined === 0 ? [] : [`${grouped(undecided.unexamined)} not examined`]),
  ];
  const start = `The reading decides nothing for ${grouped(n)} ${rowsOf(protocol.unit, n)} (${parts.join(", ")}); they are ${policyWords[protocol.undecidable]}.`;
  const other = protocol.undecidable === "pass" ? "refer" : "pass";
  const rates = ratesUnder(condition, other);
  if (rates === null) return start;
  return `${start} If they counted as ${other === "pass" ? "not referred" : "referred"}: sensitivity ${intervalInWords(rates.sensitivity, "%", 100)}, specificity ${intervalInWords(rates.specificity, "%", 100)}.`;
}

/** What the reading said and the exam found, row by row: the counts of the flow's last boxes. */
export function readingTable(condition: ConditionResult, { protocol }: Studied): TableModel {
  const words = { referred: "Referred", passed: "Passed", undecided: "Without a decision" };
  return {
    kind: "table",
    title: `Reading and exam: ${condition.title}`,
    columns: [
      text("Reading"),
      count("With the condition"),
      count("Without it"),
      count("Not examined"),
      count("All"),
    ],
    rows: resultsOfReading(condition, protocol).map((one) => ({
      cells: [words[one.reading], one.with, one.without, one.unexamined, allOf(one)],
    })),
    notes: ["Those without a decision stand apart, whatever the protocol counts them as."],
  };
}

export function undecidedOf(
  condition: ConditionResult,
  protocol: StudyResult["protocol"],
): ReadingResult {
  return resultsOfReading(condition, protocol).find(({ reading }) => reading === "undecided")!;
}

export const allOf = (one: ReadingResult): number => sum([one.with, one.without, one.unexamined]);

type Rates = {
  readonly [measure in "sensitivity" | "specificity"]: Estimate | Undefined;
};

function ratesUnder(
  { verification, variants }: ConditionResult,
  policy: "refer" | "pass",
): Rates | null {
  if (verification !== null) {
    return verification.byPolicy.find((one) => one.policy === policy)?.corrected ?? null;
  }
  return variants.variants.find((one) => one.policy === policy)?.accuracy ?? null;
}
