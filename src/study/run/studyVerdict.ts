import type { Protocol } from "../../protocol/index.js";
import { type Estimate, type Undefined, undefinedBecause } from "../../results/index.js";
import type { AgreementResult, ConditionResult } from "./studyResult.js";
import { type StudyVerdict, verdictOnAll } from "./verdict.js";

/**
 * The verdict on the headline of each confirmatory condition (corrected where passes were examined in
 * part) and on the share of differences within the acceptable one.
 */
export function studyVerdict({
  protocol,
  agreement,
  conditions,
}: {
  readonly protocol: Protocol;
  readonly agreement: readonly AgreementResult[];
  readonly conditions: readonly ConditionResult[];
}): StudyVerdict | null {
  return verdictOnAll(protocol, ({ measure, condition: id }) => {
    if (measure === "withinAcceptable") {
      const share = agreement.find(({ quantity }) => quantity === "M")!.withinAcceptable!;
      return protocol.verification === "complete"
        ? ofEstimate(share)
        : ofEstimate(
            undefinedBecause(
              "the share is known of the examined only, chosen in part by the reading",
            ),
          );
    }
    const { accuracy, verification } = conditions.find((condition) => condition.id === id)!;
    return ofEstimate((verification === null ? accuracy : verification.corrected)[measure]);
  });
}

function ofEstimate(found: Estimate | Undefined) {
  return { found, interval: found.kind === "estimate" ? found : null };
}
