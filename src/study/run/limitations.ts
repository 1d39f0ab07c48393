import type { Protocol } from "../../protocol/index.js";
import { grouped, sum } from "../../rows/index.js";
import { policyWords } from "./referralWords.js";
import type { ConditionResult, ConditionRules, StudyResult } from "./studyResult.js";

/** A count as its reader may know it. */
export interface Counted {
  readonly most: number;
  readonly words: string;
}

/** What limitations are said of; counts exact or coarse. */
export interface Limited {
  readonly protocol: Pick<Protocol, "sampling" | "verification" | "undecidable" | "eye">;
  readonly conditions: readonly {
    readonly title: string;
    readonly caution: string | null;
    readonly withCondition: Counted | null;
    readonly withoutCondition: Counted | null;
    /** Left out because rules cannot decide them by their age. */
    readonly byAge: Counted | null;
    /** What rules ask for and nothing records, in sentences. */
    readonly notRecorded: readonly string[];
    /** Sentences on who was examined. */
    readonly uneven: string | null;
  }[];
  /** "12 of 300 examined", or whom it is about where the count is not for the reader; null: nobody. */
  readonly undecided: string | null;
  /** A sentence on who was not examined; null where nobody. */
  readonly unexamined: string | null;
  /** The components of which limits of agreement are given. */
  readonly agreement: readonly { readonly quantity: "M" | "J0" | "J45" }[];
}

/** Limitations that the data and the protocol show, in words; only those that apply. */
export function limitationsOf({
  protocol,
  conditions,
  undecided,
  unexamined,
  agreement,
}: Limited): string[] {
  const found: string[] = [];
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
  for (const {
    title,
    caution,
    withCondition,
    withoutCondition,
    byAge,
    notRecorded,
  } of conditions) {
    for (const [group, kind, rate] of [
      [withCondition, "with", "sensitivity"],
      [withoutCondition, "without", "specificity"],
    ] as const) {
      if (group === null || group.most >= 50) continue;
      found.push(
        group.most === 0
          ? `${title}: nobody is known to be ${kind} the condition, so ${rate} cannot be estimated.`
          : `${title}: only ${group.words} ${kind} the condition; the interval of ${rate} is wide.`,
      );
    }
    if (byAge !== null) {
      found.push(
        `${title}: ${byAge.words} screened children are left out because the rules cannot decide them by their age.`,
      );
    }
    found.push(...notRecorded.map((sentence) => `${title}: ${sentence}`));
    if (caution !== null) found.push(`${title}: ${caution}`);
  }
  if (undecided !== null) {
    found.push(
      `${undecided} could not be decided by the reading; they are ${policyWords[protocol.undecidable]}, as the protocol says. A child without a reading is not a pass.`,
    );
  }
  if (unexamined !== null) found.push(unexamined);
  for (const { uneven } of conditions) if (uneven !== null) found.push(uneven);
  const without = (["J0", "J45"] as const).filter((one) =>
    agreement.every(({ quantity }) => quantity !== one),
  );
  if (without.length > 0) {
    found.push(
      `${without.join(" and ")} are not compared: too few eyes have sphere, cylinder and axis on both sides (a file may hold the spherical equivalent alone).`,
    );
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

/** The limitations of a result, in exact counts. */
export function limitations({
  protocol,
  conditions,
  agreement,
}: Pick<StudyResult, "protocol" | "conditions" | "agreement">): string[] {
  const exact = (count: number): Counted => ({ most: count, words: grouped(count) });
  const first = conditions[0]!;
  const all = first.screened;
  return limitationsOf({
    protocol,
    agreement,
    conditions: conditions.map((condition) => {
      const { title, caution, table, rules } = condition;
      const byAge = sum((rules?.undecidedByAge ?? []).map(({ children }) => children));
      return {
        title,
        caution,
        withCondition: exact(table.truePositive + table.falseNegative),
        withoutCondition: exact(table.falsePositive + table.trueNegative),
        byAge: byAge === 0 ? null : exact(byAge),
        notRecorded: notRecordedWords(rules),
        uneven:
          protocol.verification === "complete"
            ? unevenFollowUp(condition)
            : otherThanStated(condition, protocol),
      };
    }),
    undecided:
      first.undecidable === 0
        ? null
        : `${grouped(first.undecidable)} of ${grouped(all - first.unexamined)} examined`,
    unexamined:
      first.unexamined === 0
        ? null
        : `${grouped(first.unexamined)} of ${grouped(all)} screened have no finding${decidingWords(first)}${askedWords(first)}`,
  });
}

/** What a rule asks for and the data record of nobody: no child passes it then. */
export function notRecordedWords(rules: Pick<ConditionRules, "notRecorded"> | null): string[] {
  const { refer = [], condition = [] } = rules?.notRecorded ?? {};
  return [
    ...(condition.length === 0
      ? []
      : [
          `the exam records nothing of ${joined(condition)}, for which the condition asks: an examined child with none of its other signs is undecided and counts as not examined, so that nobody is known to be without the condition. A column for it in the findings' mapping, or a rule without it, decides these children.`,
        ]),
    ...(refer.length === 0
      ? []
      : [
          `the reading records nothing of ${joined(refer)}, for which the referral asks: a child whom nothing else refers is undecided.`,
        ]),
  ];
}

const joined = (words: readonly string[]) =>
  words.length === 1 ? words[0] : `${words.slice(0, -1).join(", ")} and ${words.at(-1)}`;

/** The examined among those without a finding that decides. */
function decidingWords({ rules }: ConditionResult): string {
  const examined = rules?.conditionUndecided ?? 0;
  return examined === 0
    ? ""
    : ` that decides the condition (${grouped(examined)} of them were examined)`;
}

/** Of whom the unexamined are: asked and not come, or never asked. */
function askedWords({ verification, rules }: ConditionResult): string {
  if (verification === null) return "; those who did not come may differ from those who did.";
  const { refer, pass, unable } = verification.programme;
  const open = ({ screened, examined }: typeof refer) => grouped(screened - examined);
  if ((rules?.conditionUndecided ?? 0) > 0) {
    return `: referred ${open(refer)}, passed ${open(pass)}, unable to be read ${open(unable)}; those who did not come may differ from those who did.`;
  }
  return `: referred and not come ${open(refer)}, passed and not asked or not come ${open(pass)}, unable to be read and not come ${open(unable)}; those who did not come may differ from those who did.`;
}

/** Those who were referred were examined more often, or less, than those who passed, by 10 % or more. */
function unevenFollowUp({ title, followUp: { referred, passed } }: ConditionResult): string | null {
  if (referred.screened === 0 || passed.screened === 0) return null;
  const [ofReferred, ofPassed] = [referred, passed].map(
    ({ screened, examined }) => examined / screened,
  );
  if (Math.abs(ofReferred - ofPassed) < 0.1) return null;
  const shares = `${wholePercent(ofReferred)} of those referred and ${wholePercent(ofPassed)} of those who passed were examined`;
  const [high, low] = ofReferred > ofPassed ? ["high", "low"] : ["low", "high"];
  return `${title}: the protocol says that everybody was examined, yet ${shares}. Uncorrected, sensitivity is then too ${high} and specificity too ${low}; verification "partial" corrects both where being examined depended on the result only.`;
}

/** The protocol says that some passes were examined, or none, and the data say otherwise. */
function otherThanStated(
  { title, verification, followUp }: ConditionResult,
  protocol: Pick<Protocol, "verification">,
): string | null {
  const { screened, examined } = verification?.programme.pass ?? followUp.passed;
  if (screened === 0) return null;
  const counts = `${grouped(examined)} of ${grouped(screened)} who passed were examined`;
  if (protocol.verification === "none") {
    return examined === 0
      ? null
      : `${title}: the protocol says that no child who passed was examined, yet ${counts}. Verification "partial" uses them, where it is known why they were examined.`;
  }
  if (examined > 0 && examined < screened) return null;
  return `${title}: the protocol says that some of those who passed were examined, yet ${counts}. ${
    examined === 0
      ? 'Nothing is known of the others: verification "none" says so.'
      : 'Nobody stands for another: verification "complete" says so.'
  }`;
}

function wholePercent(share: number): string {
  return `${Math.round(100 * share)} %`;
}
