import type { Audience } from "./audience.js";
import { complementaryCells } from "./complementaryCells.js";
import { smallestCount } from "./smallCounts.js";

/**
 * Counts in rows and columns of which a reader knows every sum; null where a small count stands, or
 * one that would give it back.
 */
export function shownGrid(
  counts: readonly (readonly number[])[],
  audience: Audience,
): readonly (readonly (number | null)[])[] {
  if (audience === "journal") return counts;
  const out = complementaryCells(counts, {
    fewerThan: smallestCount,
    sums: "both",
    totalRow: -1,
    totalColumn: -1,
  });
  return counts.map((line, row) => line.map((count, column) => (out[row]![column] ? null : count)));
}
