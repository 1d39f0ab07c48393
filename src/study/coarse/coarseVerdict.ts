import { type CoarseRate, outwards } from "../../disclosure/index.js";
import type { Protocol } from "../../protocol/index.js";
import { type Undefined, undefinedBecause } from "../../results/index.js";
import { type StudyVerdict, verdictOnAll } from "../run/verdict.js";
import { strataWords } from "./coarseProgramme.js";
import type { CoarseRates } from "./coarseRates.js";

/** A rate of coarse counts, or why there is none. */
export type CoarseFinding = CoarseRate | Undefined;

/** The verdict from coarse rates alone, on the limits as they are printed. */
export function coarseVerdict(
  protocol: Parameters<typeof verdictOnAll>[0] &
    Pick<Protocol, "verification" | "verificationStrata">,
  conditions: readonly {
    readonly id: string;
    readonly counts: { readonly rates: CoarseRates } | null;
  }[],
  share: { readonly rate: CoarseRate } | null,
): StudyVerdict<CoarseFinding> | null {
  return verdictOnAll<CoarseFinding>(protocol, ({ measure, condition: id }) => {
    if (measure === "withinAcceptable") {
      if (protocol.verification !== "complete") {
        return without("the share is known of the examined only, chosen in part by the reading");
      }
      return share === null
        ? without("beside the other counts a small one would follow from it")
        : onRate(share.rate);
    }
    const counts = conditions.find((condition) => condition.id === id)?.counts;
    if (counts == null) return without("its counts are not in the public form");
    const found = counts.rates[measure];
    if (found === null) {
      return without(
        protocol.verificationStrata === undefined
          ? "its coarse counts do not give it"
          : strataWords,
      );
    }
    return onRate(found);
  });
}

function onRate(found: CoarseRate) {
  if (found.low === null || found.high === null) return { found, interval: null };
  const [low, high] = outwards(found.low, found.high);
  return { found, interval: { low: low / 100, high: high / 100 } };
}

function without(reason: string) {
  return { found: undefinedBecause(reason), interval: null };
}
