export type RefusedFinding = (typeof refusals)[number];

/** Why a finding cannot count, from the plainest to the one nearest to a reference. */
export const refusals = ["before-screening", "outside-window", "other-cycloplegia"] as const;
