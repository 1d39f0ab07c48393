import type { PublicProtocol } from "../coarse/coarseStudy.js";

/** What a report says before anyone acts on it: what goes for every study, and what goes for this one. */
export function cautionsOf(
  protocol: Pick<PublicProtocol, "verification" | "sampling" | "indexTest" | "unit" | "eye">,
): readonly string[] {
  const { verification, sampling, indexTest, unit, eye } = protocol;
  const where = (holds: boolean, caution: string) => (holds ? [caution] : []);
  const partly = verification !== "complete";
  return [
    "Research use: not a diagnosis, not a prescription, not a referral decision for a child.",
    "A pass does not mean healthy: a screening reading measures neither acuity nor alignment and misses strabismus and disease without a refractive error.",
    "A child without a reading is not a pass; such children have the condition more often.",
    "A risk factor is not amblyopia.",
    ...where(
      indexTest.cycloplegia === "none",
      "A reading without cycloplegia under-reads plus, most in high hyperopia.",
    ),
    "Limits are tied to an instrument, an age band, a population and a prevalence; do not carry them over.",
    "A limit chosen on these data is optimistic here and needs new data. Do not change a referral limit on the strength of this page.",
    ...where(
      partly,
      "Predictive values come from examined children; without examined passes sensitivity cannot be estimated.",
    ),
    ...where(partly, "Children lost to follow-up may differ; look at the bounds."),
    ...where(
      sampling === "enriched",
      "A clinic sample overstates prevalence and predictive values.",
    ),
    ...where(unit === "eye" && eye === "both", "Two eyes of a child are not independent."),
    "Wide limits mean that methods are not interchangeable, however small the bias.",
    "Small numbers: no missed case is not certainty.",
    "Local law, the local screening protocol and licensed practice come first; nothing here changes who is referred or treated.",
  ];
}
