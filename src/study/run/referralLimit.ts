import { isLimit, type Protocol, type ProtocolLimit } from "../../protocol/index.js";

/** The referral limit of a condition; null where a rule refers. */
export function referralLimit(
  protocol: Pick<Protocol, "conditions">,
  id: string,
): ProtocolLimit | null {
  const { referWhen } = protocol.conditions.find((condition) => condition.id === id)!;
  return isLimit(referWhen) ? referWhen : null;
}
