import { isLimit, type Protocol, type ProtocolCondition } from "../../protocol/index.js";
import { meets } from "../../rows/index.js";
import type { ConditionRows } from "./conditionRows.js";
import type { ConditionResult, CorrectedStop } from "./studyResult.js";
import { correctedRows, drawsOf, type VerificationRows } from "./verificationOf.js";

/** A fifth of the draws at the limit fixed in advance: there are many stops. */
const drawsAtStop = (protocol: Protocol) => drawsOf(protocol) / 5;

/**
 * Accuracy corrected for who was examined at every place where the limit can stand, so that nothing
 * drawn or computed there is of the examined alone. Rows without a complete value keep the decision
 * they have at the limit fixed in advance. Null where everyone was examined, or no limit moves.
 */
export function correctedAtStops(
  rows: ConditionRows & VerificationRows,
  protocol: Protocol,
  { referWhen }: ProtocolCondition,
  { curve }: Pick<ConditionResult, "curve">,
): readonly CorrectedStop[] | null {
  if (protocol.verification === "complete" || !isLimit(referWhen)) return null;
  if (curve.kind === "undefined") return null;
  const inclusive = referWhen.relation.startsWith(">") ? ">=" : "<=";
  return curve.points.flatMap(({ cutOff }) => {
    if (cutOff === null) return [];
    const moved = { ...referWhen, relation: inclusive, limit: cutOff } as const;
    const test = rows.test.map((decision, row) =>
      Number.isNaN(rows.value[row]) ? decision : meets(rows.value[row], moved),
    );
    // without a record of its own the programme is taken to have used the limit fixed in advance
    const corrected = correctedRows(
      { ...rows, test },
      protocol,
      protocol.undecidable,
      drawsAtStop(protocol),
    );
    const { sensitivity, specificity, positivePredictiveValue, negativePredictiveValue } =
      corrected;
    return [{ cutOff, sensitivity, specificity, positivePredictiveValue, negativePredictiveValue }];
  });
}
