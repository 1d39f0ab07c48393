import type { CompiledRule, Leaf, Tree } from "./compileRule.js";

/** Half-open intervals; none is "impossible". */
type Intervals = readonly (readonly [number, number])[];

/** What must hold together: the values allowed by quantity and eye. */
type Demands = ReadonlyMap<string, Intervals>;

/** Above this many combinations an expression is not examined. */
const most = 4096;

/**
 * Paths of the innermost expressions that no child can fulfil: contradictory limits on one quantity
 * of one eye, an unsigned quantity below zero, a meridian beyond the more positive one.
 */
export function neverTrue({ bands, leaves }: CompiledRule): (readonly PropertyKey[])[] {
  const found = new Map<string, readonly PropertyKey[]>();
  const ways = (tree: Tree): Demands[] | null => {
    if (tree.op === "limit") return reported(tree, leafWays(leaves[tree.leaf]));
    const members = tree.members.map(ways);
    // an impossible member has been reported itself
    if (members.some((member) => member === null || member.length === 0)) return null;
    if (tree.op === "any") return limited((members as Demands[][]).flat());
    let together: Demands[] | null = [new Map()];
    for (const member of members as Demands[][]) {
      if (together.length * member.length > most) return null;
      together = together.flatMap((one) => member.map((other) => joined(one, other)));
    }
    return reported(tree, together.filter(possible));
  };
  const reported = (tree: Tree, result: Demands[]) => {
    const open = result.filter(possible);
    if (open.length === 0) found.set(tree.path.join("/"), tree.path);
    return open;
  };
  for (const { tree } of bands) ways(tree);
  return [...found.values()];
}

function limited(ways: Demands[]): Demands[] | null {
  return ways.length > most ? null : ways;
}

function leafWays(leaf: Leaf): Demands[] {
  const within: Intervals = [[leaf.low, leaf.high]];
  const allowed = leaf.negated ? complement(leaf) : within;
  const domain: Intervals = [
    [leaf.unsigned ? 0 : Number.NEGATIVE_INFINITY, Number.POSITIVE_INFINITY],
  ];
  const values = intersection(allowed, domain);
  const one = (eye: string): [string, Intervals] => [`${leaf.key} ${eye}`, values];
  const either = leaf.negated ? "both" : "either";
  if (leaf.eye === either) return [new Map([one("right")]), new Map([one("left")])];
  if (leaf.eye === "either" || leaf.eye === "both") return [new Map([one("right"), one("left")])];
  return [new Map([one(leaf.eye)])];
}

function complement({ low, high }: Leaf): Intervals {
  const parts: (readonly [number, number])[] = [
    [Number.NEGATIVE_INFINITY, low],
    [high, Number.POSITIVE_INFINITY],
  ];
  return parts.filter(([from, to]) => from < to);
}

function intersection(one: Intervals, other: Intervals): Intervals {
  return one
    .flatMap(([from, to]) =>
      other.map(([start, end]) => [Math.max(from, start), Math.min(to, end)] as const),
    )
    .filter(([from, to]) => from < to);
}

function joined(one: Demands, other: Demands): Demands {
  const both = new Map(one);
  for (const [key, values] of other) {
    const before = both.get(key);
    both.set(key, before === undefined ? values : intersection(before, values));
  }
  return both;
}

function possible(demands: Demands): boolean {
  for (const values of demands.values()) if (values.length === 0) return false;
  // of one eye, a more negative meridian cannot lie above a more positive one
  for (const eye of ["right", "left"]) {
    const order = meridians.map((quantity) => demands.get(`${quantity} ${eye}`));
    for (let low = 0; low < order.length; low++) {
      for (let high = low + 1; high < order.length; high++) {
        const [lower, upper] = [order[low], order[high]];
        if (lower !== undefined && upper !== undefined && lower[0][0] >= upper.at(-1)![1]) {
          return false;
        }
      }
    }
  }
  return true;
}

const meridians = ["mostNegativeMeridian", "M", "mostPositiveMeridian"];
