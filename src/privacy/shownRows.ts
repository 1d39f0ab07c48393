import { type Estimate, InputError, type Undefined } from "../results/index.js";
import type { Audience } from "./audience.js";
import { complementaryCells } from "./complementaryCells.js";
import { smallestCount } from "./smallCounts.js";

/** One line of a list of estimates: a group, a site, an age band, or all together. */
export interface CountedRow {
  readonly label: string;
  readonly n: number;
  readonly estimate: Estimate | Undefined;
  /** Of a proportion: how many of its whole have it and how many not; the public form needs both. */
  readonly counts?: readonly [number, number];
  /** All together, below the others. */
  readonly summary?: boolean;
}

/**
 * Which rows an audience may see: for the public none whose number of rows, or whose counts behind a
 * proportion, are small, and none that would give such a count back as what is left of the sum.
 *
 * @throws when a proportion comes without its counts
 */
export function shownRows(
  caller: string,
  rows: readonly CountedRow[],
  isProportion: boolean,
  audience: Audience,
): readonly boolean[] {
  if (audience === "journal") return rows.map(() => true);
  const bare = rows.find(
    ({ counts, estimate }) => isProportion && counts === undefined && estimate.kind === "estimate",
  );
  if (bare !== undefined) {
    throw new InputError(
      `${caller} for the public requires counts of every proportion, got none for ${bare.label}`,
    );
  }
  const counts = rows.map(({ n, counts: [has, hasNot] = [null, null] }) => [n, has, hasNot]);
  const out = complementaryCells(counts, {
    fewerThan: smallestCount,
    sums: "columns",
    totalRow: rows.findIndex(({ summary }) => summary === true),
    totalColumn: -1,
  });
  return out.map((cells) => !cells.some(Boolean));
}
