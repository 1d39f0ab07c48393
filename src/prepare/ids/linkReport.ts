import {
  type Ignorable,
  idNormaliser,
  ignorable,
  ignorableSets,
  isDecimal,
} from "./normaliseId.js";

/** How the ids of the files match when something is ignored. */
export interface Match {
  readonly ignore: readonly Ignorable[];
  /** Children that all files with measurements have. */
  readonly matched: number;
  /** Ids of one file that would become one and were different: a reason to refuse. */
  readonly collisions: number;
}

export interface IdMatches {
  /** Different ids in each file. */
  readonly children: readonly number[];
  /** As written first, then what would match more children, or would collide. */
  readonly matches: readonly Match[];
  /** What should be ignored for most matches without a collision, the least of it. */
  readonly best: Match;
}

/**
 * How many children match as written, and how many would if something were ignored. Of two ways with
 * the same number of matches the one that ignores less is better; a way that makes one id of two is none.
 *
 * @param files the distinct ids of each file
 */
export function idMatches(files: readonly (readonly string[])[]): IdMatches {
  const asWritten = matchOf(files, []);
  const most = Math.min(...files.map((ids) => ids.length));
  // a million ids are not compared in every way where nothing can be gained
  const hopeless =
    asWritten.matched === most || matchOf(files, ignorable).matched <= asWritten.matched;
  const decimals = !hopeless && files.some((ids) => ids.some(isDecimal));
  const ways = ignorableSets.slice(1).filter((ways) => decimals || !ways.includes("decimals"));
  const others = hopeless ? [] : ways.map((ignore) => matchOf(files, ignore));
  const best = others.reduce(
    (most, one) => (one.collisions === 0 && one.matched > most.matched ? one : most),
    asWritten,
  );
  // of several ways with the same outcome the first, which ignores least
  const seen = new Set<string>();
  const offers = others.filter((one) => {
    const gained = one.matched > asWritten.matched;
    const outcome = `${one.matched} ${one.collisions}`;
    if (!gained || seen.has(outcome)) return false;
    seen.add(outcome);
    return true;
  });
  return { children: files.map((ids) => ids.length), matches: [asWritten, ...offers], best };
}

export function matchOf(
  files: readonly (readonly string[])[],
  ignore: readonly Ignorable[],
): Match {
  let collisions = 0;
  const sets = files.map((ids) => {
    const normal = idNormaliser(ignore, ids);
    const set = new Set(ids.map(normal));
    collisions += ids.length - set.size;
    return set;
  });
  const [first, ...rest] = sets.toSorted((one, other) => one.size - other.size);
  let matched = 0;
  for (const id of first ?? []) if (rest.every((set) => set.has(id))) matched++;
  return { ignore, matched: files.length < 2 ? 0 : matched, collisions };
}
