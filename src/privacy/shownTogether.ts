import { InputError } from "../results/index.js";
import { isSmallCount, rounding, smallestCount } from "./smallCounts.js";

/**
 * Which members of a series of counts the public may see together, so that neither a member nor the
 * difference of two gives back a small count.
 *
 * A member is a list of counts, such as the true and the false positives at one cut-off, each a part
 * of its total, which is taken as known. Members come in the order of their claim: one is shown when
 * each of its counts, what is missing to the total, and the difference to the same count of every
 * member shown already is 0 or at least `fewerThan`. Where members grow along the series, as along a
 * cut-off, every sum of differences is 0 or at least `fewerThan` then. A total may be small itself.
 *
 * @param members lists of counts (or sums of weights), one number for each of `totals`
 * @param totals the whole of each count
 * @param options `first`: places of members that are asked before the others
 * @throws when a member has not one count for each total, or a count is outside 0 to its total
 *
 * @example
 * shownTogether([[0], [5], [12], [20], [40]], [40]) // => [true, false, true, false, true]
 */
export function shownTogether(
  members: readonly (readonly number[])[],
  totals: readonly number[],
  options: { readonly first?: readonly number[]; readonly fewerThan?: number } = {},
): boolean[] {
  const { first = [], fewerThan = smallestCount } = options;
  const shown = members.map(() => false);
  const known = totals.map((total) => [0, total]);
  for (const at of [...first, ...members.keys()]) {
    const counts = members[at];
    if (counts === undefined || counts.length !== totals.length) {
      throw new InputError(
        `shownTogether requires ${totals.length} counts a member, got ${counts?.length ?? "none"}`,
      );
    }
    if (shown[at] || counts.some((count, which) => isNear(count, known[which]!, fewerThan)))
      continue;
    shown[at] = true;
    counts.forEach((count, which) => {
      const list = known[which]!;
      if (!isKnown(count, list)) list.splice(placeIn(list, count), 0, count);
    });
  }
  return shown;
}

/** Whether a count is new, and less than the fewerThan away from one that is known. */
function isNear(count: number, known: readonly number[], fewerThan: number): boolean {
  if (!(count >= 0 && count <= known.at(-1)! + rounding)) {
    throw new InputError(
      `shownTogether requires counts from 0 to their total ${known.at(-1)}, got ${count}`,
    );
  }
  return (
    !isKnown(count, known) &&
    neighbours(count, known).some((other) => isSmallCount(Math.abs(other - count), fewerThan))
  );
}

function isKnown(count: number, known: readonly number[]): boolean {
  return neighbours(count, known).some((other) => Math.abs(other - count) <= rounding);
}

/** The known counts beside one, in an ascending list. */
function neighbours(count: number, known: readonly number[]): readonly number[] {
  const place = placeIn(known, count);
  return known.slice(Math.max(0, place - 1), place + 1);
}

/** The first place in an ascending list whose number is not below the count. */
function placeIn(ascending: readonly number[], count: number): number {
  let low = 0;
  let high = ascending.length;
  while (low < high) {
    const middle = (low + high) >>> 1;
    if (ascending[middle]! < count) low = middle + 1;
    else high = middle;
  }
  return low;
}
