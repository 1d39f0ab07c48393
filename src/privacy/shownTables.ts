import type { TwoByTwo } from "../results/index.js";
import type { Audience } from "./audience.js";
import { shownTogether } from "./shownTogether.js";

/**
 * Which 2x2 tables of the same rows an audience may see beside each other, the first ones before the
 * others: for the public those whose counts, and whose differences, are 0 or at least 11.
 */
export function shownTables(tables: readonly TwoByTwo[], audience: Audience): readonly boolean[] {
  if (audience === "journal") return tables.map(() => true);
  // of a rule that cannot decide on everybody the rest of the whole is a count of its own
  const counts = tables.map(({ truePositive, falseNegative, falsePositive, trueNegative }) => [
    truePositive,
    falseNegative,
    falsePositive,
    trueNegative,
  ]);
  const withIt = Math.max(0, ...counts.map(([right, missed]) => right! + missed!));
  const without = Math.max(0, ...counts.map(([, , wrong, passed]) => wrong! + passed!));
  return shownTogether(counts, [withIt, withIt, without, without]);
}
