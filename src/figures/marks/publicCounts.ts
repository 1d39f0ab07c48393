import { isSmallCount, smallestCount } from "../../privacy/index.js";
import { InputError } from "../../results/index.js";
import type { Audience } from "./points.js";

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

/** "3 of 20 points are not shown, because ...", or nothing where none is left out. */
export function leftOutWords(leftOut: number, of: number, noun: string): string {
  if (leftOut === 0) return "";
  const [verb, them] = leftOut === 1 ? ["is", "it"] : ["are", "them"];
  return `${leftOut} of ${of} ${noun} ${verb} not shown, because a count below ${smallestCount} could be worked out from ${them}.`;
}
