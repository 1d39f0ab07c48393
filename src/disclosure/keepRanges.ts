import type { SumRange } from "./coarseSum.js";
import type { Known, PartsOfWhole } from "./whatFollows.js";
import {
  middles,
  quick,
  type Search,
  type System,
  systemOf,
  thorough,
  type Within,
} from "./wholeNumbers.js";

/**
 * Whether each small count can be 0, and the most that is small, with whole numbers for all others that fit
 * every equation at once: exact for any equations, those that form circles too.
 *
 * @param open counts of which it is not known here whether they are small: one that may be must have the range of one
 * @returns false too where that was not found in a bounded number of steps
 */
export function keepRanges(
  known: readonly Known[],
  equations: readonly PartsOfWhole[],
  small: readonly string[],
  fewerThan: number,
  open: readonly string[] = [],
): boolean {
  const system = systemOf(known, equations);
  return keptIn(system, [], { small, open, fewerThan }, thorough(system, 200_000)) === "kept";
}

/**
 * The ranges that a sum may read so that this holds whichever of them it reads: those given, merged where one of them
 * would narrow a small count. They are made of what a reader knows, and say nothing more: they end where the sum cannot
 * lie further.
 *
 * @param implied counts that follow from others, small or not: each that has the range of a small one, or of one that
 *   is not, must have so in each range
 * @returns one range where no two are safe
 */
export function safeRanges(
  known: readonly Known[],
  equations: readonly PartsOfWhole[],
  { small, implied, fewerThan }: Omit<Asked, "open"> & { readonly implied: readonly string[] },
  sum: { readonly name: string; readonly ranges: readonly SumRange[] },
): readonly SumRange[] {
  const system = systemOf(known, equations);
  const at = system.places.get(sum.name)!;
  const search = quick(system, 500);
  const open = [...new Set(implied)].filter(
    (name) => keptIn(system, [], { small: [], open: [name], fewerThan }, search) !== "narrowed",
  );
  const start = middles(system);
  const fits = (low: number, high: number) => search([[at, low, high]], start) !== "none";
  const ends = { low: sum.ranges[0]!.low, high: sum.ranges.at(-1)!.high };
  if (!fits(ends.low, ends.high)) return [ends];
  const least = firstOf(ends.low, ends.high, (n) => fits(ends.low, n));
  const most = -firstOf(-ends.high, -least, (n) => fits(-n, ends.high));
  const isSafe = ({ low, high }: SumRange) => {
    const verdict = keptIn(system, [[at, low, high]], { small, open, fewerThan }, search);
    return verdict === "kept" || verdict === "impossible";
  };
  const safe: SumRange[] = [];
  let from: number | null = null;
  for (const one of sum.ranges) {
    const [low, high] = [Math.max(least, one.low), Math.min(most, one.high)];
    if (low > high) continue;
    const range: SumRange = { low: from ?? low, high };
    from = isSafe(range) ? null : range.low;
    if (from === null) safe.push(range);
  }
  // what is left over joins the ranges before it
  while (from !== null && safe.length > 0) {
    const range: SumRange = { low: safe.pop()!.low, high: most };
    from = isSafe(range) ? null : range.low;
    if (from === null) safe.push(range);
  }
  return from === null ? safe : [{ low: least, high: most }];
}

/** The first whole number from one to another of which something holds, as it holds of all after it. */
function firstOf(from: number, to: number, holds: (n: number) => boolean): number {
  let [low, high] = [from, to];
  while (low < high) {
    const middle = Math.floor((low + high) / 2);
    if (holds(middle)) high = middle;
    else low = middle + 1;
  }
  return low;
}

/** Small counts, and those of which it is not known whether they are. */
interface Asked {
  readonly small: readonly string[];
  readonly open: readonly string[];
  readonly fewerThan: number;
}

function keptIn(
  system: System,
  within: Within,
  { small, open, fewerThan }: Asked,
  search: Search,
): "kept" | "narrowed" | "unknown" | "impossible" {
  const counts = [...new Set(small)].flatMap((name) => system.places.get(name) ?? []);
  const found = new Set<string>();
  const see = (numbers: Float64Array) => {
    for (const count of counts) found.add(`${count} ${numbers[count]}`);
  };
  const start = search(within, middles(system));
  if (start === "none") return "impossible";
  if (start === "unknown") return "unknown";
  let guide = start;
  const ends = [0, fewerThan - 1];
  for (const end of ends) {
    // as many of them at this end as come there together
    const towards = Float64Array.from(guide);
    for (const count of counts) towards[count] = end;
    const all = search(within, towards, counts);
    if (typeof all !== "string") see(all);
  }
  for (const count of counts) {
    for (const end of ends) {
      if (found.has(`${count} ${end}`)) continue;
      const one = search([...within, [count, end, end]], guide);
      if (typeof one === "string") return one === "none" ? "narrowed" : "unknown";
      see(one);
      guide = one;
    }
  }
  const last = guide;
  const fits = (count: number, low: number, high: number) => {
    const one = search([...within, [count, low, high]], last);
    return one === "unknown" ? one : one !== "none";
  };
  let verdict: "kept" | "unknown" = "kept";
  for (const name of open) {
    const count = system.places.get(name)!;
    const [at0, atMost] = ends.map((end) => fits(count, end, end));
    if (at0 === true && atMost === true) continue;
    const may = fits(count, 0, fewerThan - 1);
    if (may === false) continue;
    if (may === true && (at0 === false || atMost === false)) return "narrowed";
    verdict = "unknown";
  }
  return verdict;
}
