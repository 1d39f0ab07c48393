import type { ProtocolCondition } from "../protocol/index.js";

type Limit = ProtocolCondition["target"];

/** Whether a value meets a limit, after rounding to 0.001 D. */
export function meets(value: number, { relation, limit }: Limit): boolean {
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

/** "M <= -3.00 D". */
export function limitWords({ quantity, relation, limit }: Limit): string {
  const sign = limit > 0 ? "+" : "";
  return `${quantity} ${relation} ${sign}${limit.toFixed(2)} D`;
}
