import { InputError } from "../results/index.js";

/** A count that a reader knows something of: its range. */
export interface Known {
  readonly name: string;
  readonly low: number;
  readonly high: number;
}

/** The whole is the sum of its parts, each counted `times` often (once by default). */
export interface PartsOfWhole {
  readonly whole: string;
  readonly parts: readonly { readonly name: string; readonly times?: number }[];
}

/**
 * What follows for each count from the ranges of all and from "parts make the whole": bounds are
 * propagated until none moves. Exact where the equations form a tree, as then the counts on both
 * sides of an equation have nothing else in common; a circle is refused.
 *
 * @param known ranges of the counts that are shown; every other count in an equation is 0 or more
 * @returns the range of each count
 * @throws InputError when equations form a circle, or no counts fit them
 *
 * @example
 * whatFollows([{ name: "all", low: 38, high: 42 }, { name: "a", low: 38, high: 42 }], [{ whole: "all", parts: [{ name: "a" }, { name: "b" }] }]).get("b") // => { name: "b", low: 0, high: 4 }
 */
export function whatFollows(
  known: readonly Known[],
  equations: readonly PartsOfWhole[],
): ReadonlyMap<string, Known> {
  requireTree(equations);
  return atLeastFollows(known, equations);
}

/**
 * The same for equations that may form circles: what surely follows, though more may.
 *
 * @throws InputError when no counts fit
 */
export function atLeastFollows(
  known: readonly Known[],
  equations: readonly PartsOfWhole[],
): ReadonlyMap<string, Known> {
  const ranges = new Map<string, { low: number; high: number }>();
  const rangeOf = (name: string) => {
    const range = ranges.get(name) ?? { low: 0, high: Number.POSITIVE_INFINITY };
    ranges.set(name, range);
    return range;
  };
  for (const { name, low, high } of known) Object.assign(rangeOf(name), { low, high });
  const sums = equations.map(({ whole, parts }) => [
    { range: rangeOf(whole), times: -1 },
    ...parts.map(({ name, times = 1 }) => ({ range: rangeOf(name), times })),
  ]);
  for (let moved = true; moved; ) {
    moved = false;
    for (const terms of sums) if (narrow(terms)) moved = true;
  }
  return new Map([...ranges].map(([name, range]) => [name, { name, ...range }]));
}

interface Term {
  readonly range: { low: number; high: number };
  readonly times: number;
}

/** Narrows each term of a sum that is 0; says whether one moved. */
function narrow(terms: readonly Term[]): boolean {
  const least = ({ range, times }: Term) => times * (times > 0 ? range.low : range.high);
  const most = ({ range, times }: Term) => times * (times > 0 ? range.high : range.low);
  let moved = false;
  for (const term of terms) {
    const others = terms.filter((other) => other !== term);
    const from = -others.reduce((sum, other) => sum + most(other), 0);
    const to = -others.reduce((sum, other) => sum + least(other), 0);
    const [low, high] = [from / term.times, to / term.times].sort((one, other) => one - other);
    const { range } = term;
    const [up, down] = [Math.ceil(low! - 1e-9), Math.floor(high! + 1e-9)];
    if (up > range.low || down < range.high) {
      range.low = Math.max(range.low, up);
      range.high = Math.min(range.high, down);
      moved = true;
    }
    if (range.low > range.high) {
      throw new InputError("whatFollows requires ranges that fit their equations, got none");
    }
  }
  return moved;
}

function requireTree(equations: readonly PartsOfWhole[]): void {
  const parents = new Map<string, string>();
  const root = (name: string): string => {
    const parent = parents.get(name) ?? name;
    return parent === name ? name : root(parent);
  };
  for (const [at, { whole, parts }] of equations.entries()) {
    for (const name of [whole, ...parts.map((part) => part.name)]) {
      const [one, other] = [root(`equation ${at}`), root(`count ${name}`)];
      if (one === other) {
        throw new InputError(
          `whatFollows requires equations that form a tree, got a circle through ${name}`,
        );
      }
      parents.set(other, one);
    }
  }
}
