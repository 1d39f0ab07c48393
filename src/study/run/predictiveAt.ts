import { type PredictiveValuesRange, predictiveValuesAt } from "../../accuracy/index.js";
import type { Protocol, ProtocolCondition } from "../../protocol/index.js";
import type { ConditionResult } from "./studyResult.js";

/**
 * Predictive values at the shares with the condition that the protocol names. Of counts where rows are
 * independent and everyone was examined; elsewhere of the two rates of the headline, with the extremes over both
 * intervals.
 */
export function predictiveAt(
  { prevalences }: ProtocolCondition,
  { level }: Protocol,
  { table, accuracy, verification }: Pick<ConditionResult, "table" | "accuracy" | "verification">,
): { readonly predictive?: PredictiveValuesRange } {
  if (prevalences === undefined) return {};
  const { sensitivity, specificity } = verification?.corrected ?? accuracy;
  const counted = verification === null && accuracy.kind === "accuracy";
  const source = counted ? { table } : { sensitivity, specificity };
  return { predictive: predictiveValuesAt({ ...source, prevalence: prevalences }, { level }) };
}
