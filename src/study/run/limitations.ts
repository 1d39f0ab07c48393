import { isSmallCount } from "../../privacy/index.js";
import { grouped } from "../../rows/index.js";
import { policyWords } from "./referralWords.js";
import type { ConditionResult, StudyResult } from "./studyResult.js";

/** Limitations that the data and the protocol show, in words; only those that apply. */
export function limitations(result: Omit<StudyResult, "limitations">): string[] {
  const { protocol, conditions } = result;
  const found: string[] = [];
  const few = (count: number) =>
    protocol.audience === "public" && isSmallCount(count) ? "fewer than 11" : grouped(count);
  if (protocol.sampling === "enriched") {
    found.push(
      "Cases are over-represented in this sample, so predictive values are not shown without a stated prevalence, and sensitivity and specificity may not carry over to a screened population.",
    );
  }
  if (protocol.verification === "partial") {
    found.push(
      "Only some of the children who passed were examined; uncorrected sensitivity is too high and uncorrected specificity too low.",
    );
  }
  if (protocol.verification === "none") {
    found.push(
      "The protocol says that no child who passed was examined: sensitivity, specificity and negative predictive value cannot be estimated.",
    );
  }
  for (const condition of conditions) {
    const { table, title } = condition;
    const cases = table.truePositive + table.falseNegative;
    const others = table.falsePositive + table.trueNegative;
    if (cases < 50)
      found.push(
        `${title}: only ${few(cases)} with the condition; the interval of sensitivity is wide.`,
      );
    if (others < 50)
      found.push(
        `${title}: only ${few(others)} without the condition; the interval of specificity is wide.`,
      );
    const byAge = (condition.rules?.undecidedByAge ?? []).reduce(
      (sum, { children }) => sum + children,
      0,
    );
    if (byAge > 0) {
      found.push(
        `${title}: ${few(byAge)} screened children are left out because the rules cannot decide them by their age.`,
      );
    }
    if (condition.caution !== null) found.push(`${title}: ${condition.caution}`);
  }
  const first = conditions[0];
  const all = first.screened;
  if (first.undecidable > 0) {
    found.push(
      `${few(first.undecidable)} of ${grouped(all - first.unexamined)} examined could not be decided by the reading; they are ${policyWords[protocol.undecidable]}, as the protocol says, and other ways to count them are shown. A child without a reading is not a pass.`,
    );
  }
  if (first.unexamined > 0) {
    found.push(
      `${few(first.unexamined)} of ${grouped(all)} screened have no finding${askedWords(first, few)}`,
    );
  }
  if (protocol.verification === "complete") {
    for (const condition of conditions) {
      const uneven = unevenFollowUp(condition, protocol.audience === "public");
      if (uneven !== null) found.push(uneven);
    }
  }
  if (protocol.eye === "both") {
    found.push(
      "Two eyes of a child are not independent; intervals are over children where the method says so.",
    );
  }
  found.push(
    "A reading without cycloplegia under-reads plus, most in high hyperopia; limits are tied to the instrument, the age band and the population studied.",
  );
  return found;
}

/** Of whom the unexamined are: asked and not come, or never asked. */
function askedWords({ verification }: ConditionResult, few: (count: number) => string): string {
  if (verification === null) return "; those who did not come may differ from those who did.";
  const { refer, pass, unable } = verification.programme;
  const open = ({ screened, examined }: typeof refer) => few(screened - examined);
  return `: referred and not come ${open(refer)}, passed and not asked or not come ${open(pass)}, unable to be read and not come ${open(unable)}; those who did not come may differ from those who did.`;
}

/** Those who were referred were examined more often, or less, than those who passed, by 10 % or more. */
function unevenFollowUp(
  { title, followUp: { referred, passed } }: ConditionResult,
  isPublic: boolean,
): string | null {
  if (referred.screened === 0 || passed.screened === 0) return null;
  const [ofReferred, ofPassed] = [referred, passed].map(
    ({ screened, examined }) => examined / screened,
  );
  if (Math.abs(ofReferred - ofPassed) < 0.1) return null;
  const counts = [referred, passed].flatMap(({ screened, examined }) => [
    examined,
    screened - examined,
  ]);
  const shares =
    isPublic && counts.some((count) => isSmallCount(count))
      ? "the share examined of those referred is not that of those who passed"
      : `${wholePercent(ofReferred)} of those referred and ${wholePercent(ofPassed)} of those who passed were examined`;
  const [high, low] = ofReferred > ofPassed ? ["high", "low"] : ["low", "high"];
  return `${title}: the protocol says that everybody was examined, yet ${shares}. Uncorrected, sensitivity is then too ${high} and specificity too ${low}; verification "partial" corrects both where being examined depended on the result only.`;
}

function wholePercent(share: number): string {
  return `${Math.round(100 * share)} %`;
}
