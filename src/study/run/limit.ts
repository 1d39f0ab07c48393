import { isLimit, type Protocol, type ProtocolLimit } from "../../protocol/index.js";

/** Whether a value meets a limit, after rounding to 0.001 D. */
export function meets(value: number, { relation, limit }: ProtocolLimit): boolean {
  const rounded = Math.round(value * 1000) / 1000;
  switch (relation) {
    case ">":
      return rounded > limit;
    case ">=":
      return rounded >= limit;
    case "<":
      return rounded < limit;
    case "<=":
      return rounded <= limit;
  }
}

/** Which end of the variable a limit is about. */
export function directionOf({ relation }: ProtocolLimit): "high" | "low" {
  return relation.startsWith(">") ? "high" : "low";
}

/** Whether a value at the limit itself does not meet it. */
export const isStrict = ({ relation }: ProtocolLimit): boolean => !relation.endsWith("=");

/** "M <= -3.00 D". */
export function limitWords({ quantity, relation, limit }: ProtocolLimit): string {
  const sign = limit > 0 ? "+" : "";
  return `${quantity} ${relation} ${sign}${limit.toFixed(2)} D`;
}

/** The referral limit of a condition; null where a rule refers. */
export function referralLimit(protocol: Protocol, id: string): ProtocolLimit | null {
  const { referWhen } = protocol.conditions.find((condition) => condition.id === id)!;
  return isLimit(referWhen) ? referWhen : null;
}
