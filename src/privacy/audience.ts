import { type Audience, InputError } from "../results/index.js";
import { isSmallCount, smallestCount } from "./smallCounts.js";

export type { Audience };

/** The least number of rows that stand for one thing this audience sees. */
export function leastFor(audience: Audience): number {
  return audience === "journal" ? 1 : smallestCount;
}

/** Whether the audience may see a rate that gives these counts back. */
export function mayShow(counts: readonly number[], audience: Audience): boolean {
  return audience === "journal" || !counts.some((count) => isSmallCount(count));
}

/**
 * Holds a figure of a single table back from the public where one of its counts is small.
 *
 * @throws when a count is small, or unknown (null)
 */
export function requireShowable(
  caller: string,
  counts: readonly number[] | null,
  audience: Audience,
): void {
  if (audience === "journal") return;
  if (counts === null) {
    throw new InputError(
      `${caller} for the public requires counts: the numbers behind the rates, got none (audience "journal" draws the rates alone)`,
    );
  }
  if (mayShow(counts, audience)) return;
  throw new InputError(
    `${caller} for the public requires counts of 0 or at least ${smallestCount}, got a smaller one, which the rates would give back (audience "journal" draws it)`,
  );
}

/** The range seen; for the public the whole numbers inside it, which show no single eye, or nothing. */
export function shownRange(
  [least, most]: readonly [number, number],
  audience: Audience,
): readonly number[] {
  if (audience === "journal") return [least, most];
  return Math.ceil(least) < Math.floor(most) ? [Math.ceil(least), Math.floor(most)] : [];
}
