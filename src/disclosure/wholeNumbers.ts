import type { Known, PartsOfWhole } from "./whatFollows.js";

/** Counts in ranges, and sums of them: what `keepRanges` looks for whole numbers in. */
export interface System {
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

export function systemOf(known: readonly Known[], equations: readonly PartsOfWhole[]): System {
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

export const middles = ({ low, high }: System) =>
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

/** A count with a narrower range than it has in the system. */
export type Within = readonly (readonly [count: number, low: number, high: number])[];

/** Looks for numbers that fit; "unknown" where the steps do not last. */
export type Search = (
  within: Within,
  guide: Float64Array,
  first?: readonly number[],
) => Float64Array | "none" | "unknown";

/** One order, with steps for all searches. */
export function thorough(system: System, steps: number): Search {
  const budget = { left: steps };
  return (within, guide, first) =>
    solved(system, within, guide, budget, first) ?? (budget.left < 0 ? "unknown" : "none");
}

/**
 * What was found before, where it fits; else a few steps in each order, from the nearest that was found: outwards from
 * what was asked last, as given, circles first.
 */
export function quick(system: System, steps: number): Search {
  const before: Float64Array[] = [];
  const farFrom = (within: Within, numbers: Float64Array) =>
    within.reduce((all, [count, low, high]) => {
      const value = numbers[count]!;
      return all + Math.max(0, low - value, value - high);
    }, 0);
  return (within, guide, first) => {
    let [nearest, least] = [guide, Number.POSITIVE_INFINITY];
    if (first === undefined) {
      for (const one of before) {
        const far = farFrom(within, one);
        if (far === 0) return one;
        if (far < least) [nearest, least] = [one, far];
      }
    }
    const from = within.at(-1)?.[0];
    const orders = [...(from === undefined ? [] : [outwards(system, from)]), ...system.orders];
    for (const order of orders) {
      for (const towards of nearest === guide ? [guide] : [nearest, guide]) {
        const budget = { left: steps };
        const found = solved(system, within, towards, budget, first, order);
        if (found !== null) before.push(found);
        if (found !== null || budget.left >= 0) return found ?? "none";
      }
    }
    return "unknown";
  };
}
