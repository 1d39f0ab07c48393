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
  const counts = [...new Set(small)].flatMap((name) => system.places.get(name) ?? []);
  const budget = { left: 200_000 };
  const found = new Set<string>();
  const see = (numbers: Float64Array) => {
    for (const count of counts) found.add(`${count} ${numbers[count]}`);
  };
  let guide = solved(system, [], middles(system), budget);
  if (guide === null) return false;
  const ends = [0, fewerThan - 1];
  for (const end of ends) {
    // as many of them at this end as come there together
    const towards = Float64Array.from(guide);
    for (const count of counts) towards[count] = end;
    const all = solved(system, [], towards, budget, counts);
    if (all !== null) see(all);
  }
  for (const count of counts) {
    for (const end of ends) {
      if (found.has(`${count} ${end}`)) continue;
      const one = solved(system, [[count, end, end]], guide, budget);
      if (one === null) return false;
      see(one);
      guide = one;
    }
  }
  const start = guide;
  return open.every((name) => {
    const count = system.places.get(name)!;
    const fits = (end: number) => solved(system, [[count, end, end]], start, budget) !== null;
    if (fits(0)) return fits(fewerThan - 1);
    return solved(system, [[count, 0, fewerThan - 1]], start, budget) === null && budget.left > 0;
  });
}

interface System {
  readonly places: ReadonlyMap<string, number>;
  readonly low: Float64Array;
  readonly high: Float64Array;
  /** Sums that are 0. */
  readonly sums: readonly { readonly counts: Int32Array; readonly times: Float64Array }[];
  /** The sums that each count is in. */
  readonly of: readonly (readonly number[])[];
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
  return { places, low, high, sums, of };
}

const middles = ({ low, high }: System) =>
  low.map((from, at) => Math.round((from + Math.min(high[at]!, from + 1000)) / 2));

/** Whole numbers that fit, near the guide; the counts that come first are set first. */
function solved(
  system: System,
  within: readonly (readonly [count: number, low: number, high: number])[],
  guide: Float64Array,
  budget: { left: number },
  first: readonly number[] = [],
): Float64Array | null {
  const low = Float64Array.from(system.low);
  const high = Float64Array.from(system.high);
  for (const [count, least, greatest] of within) {
    low[count] = Math.max(low[count]!, least);
    high[count] = Math.min(high[count]!, greatest);
    if (low[count]! > high[count]!) return null;
  }
  if (!narrowed(system, low, high, [...system.sums.keys()])) return null;
  const order = [...new Set([...first, ...low.keys()])];
  return set(system, low, high, guide, order, 0, budget) ? low : null;
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
