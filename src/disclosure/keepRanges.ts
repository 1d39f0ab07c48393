import type { SumRange } from "./coarseSum.js";
import type { Known, PartsOfWhole } from "./whatFollows.js";

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
    (name) => keptIn(system, [], { small: [], open: [name], fewerThan }, search) === "kept",
  );
  const start = middles(system);
  const fits = (low: number, high: number) => search([[at, low, high]], start) !== "none";
  const ends = { low: sum.ranges[0]!.low, high: sum.ranges.at(-1)!.high };
  if (!fits(ends.low, ends.high)) return [ends];
  const least = firstOf(ends.low, ends.high, (n) => fits(ends.low, n));
  const most = -firstOf(-ends.high, -least, (n) => fits(-n, ends.high));
  const isSafe = ({ low, high }: SumRange) =>
    keptIn(system, [[at, low, high]], { small, open, fewerThan }, search) !== "narrowed";
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

/** A count with a narrower range than it has in the system. */
type Within = readonly (readonly [count: number, low: number, high: number])[];

/** Looks for numbers that fit; "unknown" where the steps do not last. */
type Search = (
  within: Within,
  guide: Float64Array,
  first?: readonly number[],
) => Float64Array | "none" | "unknown";

/** One order, with steps for all searches. */
function thorough(system: System, steps: number): Search {
  const budget = { left: steps };
  return (within, guide, first) =>
    solved(system, within, guide, budget, first) ?? (budget.left < 0 ? "unknown" : "none");
}

/** A few steps in each order: outwards from what was asked last, as given, circles first. */
function quick(system: System, steps: number): Search {
  return (within, guide, first) => {
    const from = within.at(-1)?.[0];
    const orders = [...(from === undefined ? [] : [outwards(system, from)]), ...system.orders];
    for (const order of orders) {
      const budget = { left: steps };
      const found = solved(system, within, guide, budget, first, order);
      if (found !== null || budget.left >= 0) return found ?? "none";
    }
    return "unknown";
  };
}

function keptIn(
  system: System,
  within: Within,
  { small, open, fewerThan }: Asked,
  search: Search,
): "kept" | "narrowed" | "impossible" {
  const counts = [...new Set(small)].flatMap((name) => system.places.get(name) ?? []);
  const found = new Set<string>();
  const see = (numbers: Float64Array) => {
    for (const count of counts) found.add(`${count} ${numbers[count]}`);
  };
  const start = search(within, middles(system));
  if (start === "none") return "impossible";
  if (start === "unknown") return "narrowed";
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
      if (typeof one === "string") return "narrowed";
      see(one);
      guide = one;
    }
  }
  const last = guide;
  const fits = (count: number, low: number, high: number) => {
    const one = search([...within, [count, low, high]], last);
    return one === "unknown" ? one : one !== "none";
  };
  const isKept = open.every((name) => {
    const count = system.places.get(name)!;
    const at0 = fits(count, 0, 0);
    if (at0 === true) return fits(count, fewerThan - 1, fewerThan - 1) === true;
    return at0 === false && fits(count, 0, fewerThan - 1) === false;
  });
  return isKept ? "kept" : "narrowed";
}

interface System {
  readonly places: ReadonlyMap<string, number>;
  readonly low: Float64Array;
  readonly high: Float64Array;
  /** Sums that are 0. */
  readonly sums: readonly { readonly counts: Int32Array; readonly times: Float64Array }[];
  /** The sums that each count is in. */
  readonly of: readonly (readonly number[])[];
  /** All counts; and again, those that lie on circles first: once these are set, bounds of the others are exact. */
  readonly orders: readonly (readonly number[])[];
}

/** More than any study has. */
const most = 1e8;

function systemOf(known: readonly Known[], equations: readonly PartsOfWhole[]): System {
  const names = new Set([
    ...known.map(({ name }) => name),
    ...equations.flatMap(({ whole, parts }) => [whole, ...parts.map(({ name }) => name)]),
  ]);
  const places = new Map([...names].map((name, at) => [name, at]));
  const low = new Float64Array(names.size);
  const high = new Float64Array(names.size).fill(most);
  for (const one of known) {
    const at = places.get(one.name)!;
    low[at] = Math.max(low[at]!, one.low);
    high[at] = Math.min(high[at]!, one.high);
  }
  const sums = equations.map(({ whole, parts }) => ({
    counts: Int32Array.of(places.get(whole)!, ...parts.map(({ name }) => places.get(name)!)),
    times: Float64Array.of(-1, ...parts.map(({ times = 1 }) => times)),
  }));
  const of = Array.from(names, (): number[] => []);
  sums.forEach(({ counts }, at) => {
    for (const count of counts) of[count]!.push(at);
  });
  return { places, low, high, sums, of, orders: [[...of.keys()], circlesFirst(sums, of)] };
}

/** All counts by how many sums lie between them and one. */
function outwards({ sums, of }: System, from: number): readonly number[] {
  const order = new Set([from]);
  for (const count of order) {
    for (const sum of of[count]!) for (const other of sums[sum]!.counts) order.add(other);
  }
  for (const count of of.keys()) order.add(count);
  return [...order];
}

/** What is left when counts of one sum, and sums of one count, are taken away again and again lies on circles. */
function circlesFirst(sums: System["sums"], of: System["of"]): readonly number[] {
  const sumsLeft = of.map((own) => own.length);
  const countsLeft = sums.map(({ counts }) => counts.length);
  const queue = [...sumsLeft.keys()].filter((count) => sumsLeft[count]! <= 1);
  const isOut = new Set<number>(queue);
  const isGone = new Set<number>();
  for (let at = 0; at < queue.length; at++) {
    for (const sum of of[queue[at]!]!) {
      if (isGone.has(sum) || --countsLeft[sum]! > 1) continue;
      isGone.add(sum);
      for (const count of sums[sum]!.counts) {
        if (isOut.has(count) || --sumsLeft[count]! > 1) continue;
        isOut.add(count);
        queue.push(count);
      }
    }
  }
  const all = [...of.keys()];
  return [...all.filter((count) => !isOut.has(count)), ...all.filter((count) => isOut.has(count))];
}

const middles = ({ low, high }: System) =>
  low.map((from, at) => Math.round((from + Math.min(high[at]!, from + 1000)) / 2));

/** Whole numbers that fit, near the guide; the counts that come first are set first. */
function solved(
  system: System,
  within: Within,
  guide: Float64Array,
  budget: { left: number },
  first: readonly number[] = [],
  order = system.orders[0]!,
): Float64Array | null {
  const low = Float64Array.from(system.low);
  const high = Float64Array.from(system.high);
  for (const [count, least, greatest] of within) {
    low[count] = Math.max(low[count]!, least);
    high[count] = Math.min(high[count]!, greatest);
    if (low[count]! > high[count]!) return null;
  }
  if (!narrowed(system, low, high, [...system.sums.keys()])) return null;
  const places = [...new Set([...first, ...order])];
  return set(system, low, high, guide, places, 0, budget) ? low : null;
}

/** Sets one count after the other to what is nearest its guide; leaves the numbers in `low`. */
function set(
  system: System,
  low: Float64Array,
  high: Float64Array,
  guide: Float64Array,
  order: readonly number[],
  from: number,
  budget: { left: number },
): boolean {
  let at = from;
  while (at < order.length && low[order[at]!] === high[order[at]!]) at++;
  if (at === order.length) return true;
  const count = order[at]!;
  const nearest = Math.min(Math.max(guide[count]!, low[count]!), high[count]!);
  const choices = [
    [nearest, nearest],
    [nearest + 1, high[count]!],
    [low[count]!, nearest - 1],
  ] as const;
  for (const [start, end] of choices) {
    if (start > end) continue;
    if (budget.left-- < 0) return false;
    const moved: Moved = [[count, low[count]!, high[count]!]];
    low[count] = start;
    high[count] = end;
    const fits = narrowed(system, low, high, system.of[count]!, moved);
    if (fits && set(system, low, high, guide, order, at, budget)) return true;
    for (const [one, from, to] of moved.reverse()) {
      low[one] = from;
      high[one] = to;
    }
  }
  return false;
}

/** Counts with the ranges that they had. */
type Moved = (readonly [count: number, low: number, high: number])[];

/** Narrows the counts of some sums, and of those that change with them, until none moves; false where none fit. */
function narrowed(
  { sums, of }: System,
  low: Float64Array,
  high: Float64Array,
  start: readonly number[],
  moved?: Moved,
): boolean {
  // the same sum waits once; plain loops, as this is where a report's check spends its time
  const queue = start.slice();
  const waits = new Uint8Array(sums.length);
  for (let at = 0; at < queue.length; at++) waits[queue[at]!] = 1;
  for (let turn = 0; turn < queue.length; turn++) {
    const sum = queue[turn]!;
    waits[sum] = 0;
    const { counts, times } = sums[sum]!;
    let least = 0;
    let greatest = 0;
    for (let at = 0; at < counts.length; at++) {
      const by = times[at]!;
      const from = low[counts[at]!]!;
      const to = high[counts[at]!]!;
      least += by > 0 ? by * from : by * to;
      greatest += by > 0 ? by * to : by * from;
    }
    if (least > 0 || greatest < 0) return false;
    for (let at = 0; at < counts.length; at++) {
      const by = times[at]!;
      const count = counts[at]!;
      const from = low[count]!;
      const to = high[count]!;
      const othersLeast = least - (by > 0 ? by * from : by * to);
      const othersMost = greatest - (by > 0 ? by * to : by * from);
      const one = -othersMost / by;
      const other = -othersLeast / by;
      const up = Math.ceil(Math.min(one, other) - 1e-9);
      const down = Math.floor(Math.max(one, other) + 1e-9);
      if (up <= from && down >= to) continue;
      moved?.push([count, from, to]);
      const newLow = Math.max(up, from);
      const newHigh = Math.min(down, to);
      low[count] = newLow;
      high[count] = newHigh;
      if (newLow > newHigh) return false;
      least = othersLeast + (by > 0 ? by * newLow : by * newHigh);
      greatest = othersMost + (by > 0 ? by * newHigh : by * newLow);
      const others = of[count]!;
      for (let k = 0; k < others.length; k++) {
        const next = others[k]!;
        if (next === sum || waits[next] === 1) continue;
        waits[next] = 1;
        queue.push(next);
      }
    }
  }
  return true;
}
