/** Which counts the public may not see, and to what the others are rounded. */
export interface SmallCounts {
  /** Counts below this one read "fewer than"; 0 as well. */
  readonly fewerThan: number;
  /** Other counts read the nearest multiple of this. */
  readonly roundTo: number;
}

/** Fewer than 11, and multiples of 5: see the README of the room for the sources. */
export const smallCounts: SmallCounts = { fewerThan: 11, roundTo: 5 };
