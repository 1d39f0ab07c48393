import {
  type CoarseCount,
  type Known,
  keepRanges,
  type PartsOfWhole,
  type SmallCounts,
  whatFollows,
} from "../../disclosure/index.js";

/** What a reader of some tables knows, and which of the counts are too small to be known. */
export interface Ledger {
  readonly known: readonly Known[];
  readonly equations: readonly PartsOfWhole[];
  /** Counts that must keep the whole range of a small one. */
  readonly small: readonly string[];
  /** Counts of which nobody has looked whether they are small: one that may be must have the range of one. */
  readonly open?: readonly string[];
  /** Counts that follow from others and are shown nowhere, small or not. */
  readonly implied?: readonly string[];
}

export const noLedger: Ledger = { known: [], equations: [], small: [] };

export function joined(...ledgers: readonly Ledger[]): Ledger {
  return {
    known: ledgers.flatMap(({ known }) => known),
    equations: ledgers.flatMap(({ equations }) => equations),
    small: ledgers.flatMap(({ small }) => small),
    open: ledgers.flatMap(({ open = [] }) => open),
    implied: ledgers.flatMap(({ implied = [] }) => implied),
  };
}

/** A sum of shown counts, such as the children of a cell over all groups. */
export function sumLedger(
  whole: string,
  parts: readonly { readonly name: string; readonly count: CoarseCount; readonly times?: number }[],
): Ledger {
  return {
    known: parts.map(({ name, count: { low, high } }) => ({ name, low, high })),
    equations: [{ whole, parts: parts.map(({ name, times = 1 }) => ({ name, times })) }],
    small: parts.filter(({ count }) => count.low === 0).map(({ name }) => name),
  };
}

/** A count that is not shown and follows only from others; small where it is. */
export function impliedCount(name: string, count: number, fewerThan: number): Ledger {
  return { ...noLedger, small: count < fewerThan ? [name] : [], implied: [name] };
}

/** What lies between two sums of counts, of which neither is part of the other: a count of its own. */
export function differenceOf(
  one: { readonly exact: number; readonly names: readonly string[] },
  other: { readonly exact: number; readonly names: readonly string[] },
  { fewerThan }: SmallCounts,
): Ledger {
  const [more, less] = one.exact >= other.exact ? [one, other] : [other, one];
  const name = `${more.names.join(", ")} without ${less.names.join(", ")}`;
  const parts = [
    ...more.names.map((part) => ({ name: part })),
    ...less.names.map((part) => ({ name: part, times: -1 })),
  ];
  return {
    ...impliedCount(name, more.exact - less.exact, fewerThan),
    equations: [{ whole: name, parts }],
  };
}

/** Whether every small count keeps the whole range of a small one. */
export function isSafe({ known, equations, small }: Ledger, fewerThan: number): boolean {
  const ranges = whatFollows(known, equations);
  return small.every((name) => {
    const range = ranges.get(name);
    return range === undefined || (range.low === 0 && range.high >= fewerThan - 1);
  });
}

/** Tables shown beside each other: `add` takes one more, unless a small count would be narrowed. */
export function shownTogether(start: readonly Ledger[], fewerThan: number) {
  let ledgers = start;
  return {
    add(more: Ledger): boolean {
      const next = ledgers.map((ledger) => joined(ledger, more));
      if (!next.every((ledger) => isSafe(ledger, fewerThan))) return false;
      ledgers = next;
      return true;
    },
    /** All of them, each sum once. */
    all(): Ledger {
      const { equations, ...others } = joined(...ledgers);
      const each = new Map(equations.map((one) => [JSON.stringify(one), one]));
      return { ...others, equations: [...each.values()] };
    },
  };
}

/** Whether every small count keeps its whole range beside all the others at once, in circles of sums too. */
export function isSafeTogether(
  { known, equations, small, open }: Ledger,
  fewerThan: number,
): boolean {
  return keepRanges(known, equations, small, fewerThan, open);
}
