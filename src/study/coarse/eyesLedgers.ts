import type { CoarseCount, SmallCounts } from "../../disclosure/index.js";
import { impliedCount, type Ledger, sumLedger } from "./ledger.js";

/** Two counts of nearly the same: the difference is a count of its own. */
export function differenceLedger(
  whole: string,
  countOfWhole: number,
  part: string,
  countOfPart: number,
  name: string,
  { fewerThan }: SmallCounts,
  times = 1,
): Ledger {
  const difference = countOfWhole - countOfPart;
  return {
    ...impliedCount(name, Math.abs(difference), fewerThan),
    equations: [
      {
        whole: part,
        parts: [
          { name: whole, times },
          { name, times: difference < 0 ? 1 : -1 },
        ],
      },
    ],
  };
}

/** Counts that make up a whole. */
export const partition = (whole: string, name: string, counts: readonly CoarseCount[]): Ledger =>
  sumLedger(
    whole,
    counts.map((count, at) => ({ name: `${name} ${at}`, count })),
  );

interface Counted {
  readonly exact: number;
  readonly count: CoarseCount;
}

/** Whether the difference of two counts keeps its range where it is small. */
export function isKept(one: Counted, other: Counted, { fewerThan }: SmallCounts): boolean {
  const [more, less] = one.exact >= other.exact ? [one, other] : [other, one];
  if (more.exact - less.exact >= fewerThan) return true;
  const [least, most] = [more.count.low - less.count.high, more.count.high - less.count.low];
  return least <= 0 && most >= fewerThan - 1;
}
