import { InputError } from "../results/index.js";
import { grouped } from "../rows/index.js";
import { type SmallCounts, smallCounts } from "./smallCounts.js";

declare const coarse: unique symbol;

/**
 * What the public may know of a count: the range of counts that read alike. Only `coarsen` and
 * `totalOf` make one, so that no exact count reaches a function that asks for this.
 */
export interface CoarseCount {
  readonly kind: "coarse-count";
  readonly low: number;
  readonly high: number;
  /** What it reads as a number; the middle of the range of a hidden count, the sum of them of a total. */
  readonly middle: number;
  /** How it is printed: "fewer than 11", "120", or of a total "416 to 424". */
  readonly words: string;
  readonly [coarse]: true;
}

/**
 * A count made coarse: 0 to 10 reads "fewer than 11", 11 to 17 reads 15, any other its nearest
 * multiple of 5 (by the numbers of `smallCounts`).
 *
 * @throws InputError when the count is negative or not whole
 *
 * @example
 * coarsen(12).words // => "15"
 * coarsen(0).words // => "fewer than 11"
 */
export function coarsen(count: number, rule: SmallCounts = smallCounts): CoarseCount {
  if (!Number.isInteger(count) || count < 0) {
    throw new InputError(`coarsen requires a whole count of at least 0, got ${count}`);
  }
  const { fewerThan, roundTo } = rule;
  if (count < fewerThan) {
    return made(0, fewerThan - 1, (fewerThan - 1) / 2, `fewer than ${fewerThan}`);
  }
  const first = Math.ceil(fewerThan / roundTo) * roundTo;
  const reads = Math.max(first, Math.floor(count / roundTo + 0.5) * roundTo);
  const low = reads === first ? fewerThan : Math.ceil(reads - roundTo / 2);
  return made(low, Math.ceil(reads + roundTo / 2) - 1, reads, grouped(reads));
}

/**
 * A sum of coarse counts, never rounded apart: its range is the sum of theirs.
 *
 * @param parts each counted once, or as often as `times` says (children with two eyes)
 *
 * @example
 * totalOf([coarsen(120), coarsen(3)]).words // => "118 to 132"
 */
export function totalOf(
  parts: readonly CoarseCount[],
  times: readonly number[] = parts.map(() => 1),
): CoarseCount {
  if (parts.length === 1 && times[0] === 1) return parts[0]!;
  const end = (name: "low" | "high" | "middle") =>
    parts.reduce((sum, part, at) => sum + times[at]! * part[name], 0);
  const [low, high] = [end("low"), end("high")];
  const words = low === high ? grouped(low) : `${grouped(low)} to ${grouped(high)}`;
  return made(low, high, end("middle"), words);
}

/**
 * A sum of small counts, read as the range that holds it.
 *
 * @param ranges what it may read, as `sumRanges` gives them
 */
export function coarseSum(
  sum: number,
  ranges: readonly { readonly low: number; readonly high: number }[],
): CoarseCount {
  const range = ranges.find(({ low, high }) => low <= sum && sum <= high);
  if (range === undefined) {
    throw new InputError(`coarseSum requires a sum within its ranges, got ${sum}`);
  }
  const { low, high } = range;
  return made(low, high, (low + high) / 2, `${grouped(low)} to ${grouped(high)}`);
}

/** Whether the count may be one that is too small to be shown. */
export function isHidden({ low }: CoarseCount): boolean {
  return low === 0;
}

function made(low: number, high: number, middle: number, words: string): CoarseCount {
  return { kind: "coarse-count", low, high, middle, words } as CoarseCount;
}
