import type { Protocol } from "../../protocol/index.js";
import type { ConditionResult } from "./studyResult.js";

/** Rows of a condition by what the reading said and what the exam found. */
export interface ReadingResult {
  readonly reading: "referred" | "passed" | "undecided";
  readonly with: number;
  readonly without: number;
  readonly unexamined: number;
}

/** Every screened row of a condition once: the undecided apart, whatever the protocol counts them as. */
export function resultsOfReading(
  { table, variants, followUp, unexamined }: ConditionResult,
  { undecidable }: Pick<Protocol, "undecidable">,
): readonly ReadingResult[] {
  const { withCondition, withoutCondition } = variants.unreadable;
  const none = { with: 0, without: 0 };
  const undecided = { with: withCondition, without: withoutCondition };
  const counted = (policy: Protocol["undecidable"]) => (undecidable === policy ? undecided : none);
  const [referred, passed] = [counted("refer"), counted("pass")];
  const away = ({ screened, examined }: { screened: number; examined: number }) =>
    screened - examined;
  return [
    {
      reading: "referred",
      with: table.truePositive - referred.with,
      without: table.falsePositive - referred.without,
      unexamined: away(followUp.referred),
    },
    {
      reading: "passed",
      with: table.falseNegative - passed.with,
      without: table.trueNegative - passed.without,
      unexamined: away(followUp.passed),
    },
    {
      reading: "undecided",
      ...undecided,
      unexamined: unexamined - away(followUp.referred) - away(followUp.passed),
    },
  ];
}
