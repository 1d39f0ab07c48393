import type { ColumnFacts } from "./columnFacts.js";
import { powerWords } from "./nameWords.js";

/** Marks of right and left that are other words as well, so that only both of a pair tell. */
const pairs: readonly (readonly [string, string])[] = [
  ...([
    ["re", "li"],
    ["ra", "la"],
    ["h", "v"],
    ["dx", "sx"],
    ["dir", "esq"],
    ["op", "ol"],
    ["p", "l"],
    ["ho", "ve"],
    ["ho", "va"],
    ["ro", "lo"],
    ["ka", "ki"],
    ["der", "izq"],
    ["d", "s"],
    ["d", "l"],
  ] as const),
  ...([
    ["d", "g"],
    ["d", "i"],
    ["d", "e"],
  ] as const),
];
const seen = /\b(pup|pupil\w*|pupp\w*|visus|va|av|acuity|vision|agudeza|acuit[ea]|rx|refr\w*)\b/;
/** "rcsph" beside "lcsph": the letter of the eye, what the study calls the measurement, and the quantity. */
const glued = /^([rl])([a-z]{1,3})(sph|cyl|axis|axe|ax|se|va|pup)$/;

const isQuantity = (words: string) => powerWords.test(words) || seen.test(words);

/** The names of a file whose eye only the name of the other eye beside it tells: "Sph. re." by "Sph. li.". */
export function withPairedEyes(facts: readonly ColumnFacts[]): ColumnFacts[] {
  const names = new Set(facts.map(({ words }) => words));
  const found = facts.map((one) => gluedPair(one, names) ?? wordPair(one, names));
  // a pair of letters is one of eyes where it stands beside what eyes have
  const sure = new Set(found.flatMap((one) => (one?.quantity ? [one.pair] : [])));
  const paired = facts.map((one, at) => {
    const pair = found[at];
    if (pair === null || one.eye !== null || !sure.has(pair.pair)) return one;
    return { ...one, eye: pair.eye, words: pair.words, bare: pair.bare };
  });
  return prefixedQuantities(paired);
}

const prefixedQuantity = /^(?:([a-z]{1,3})(sph|cyl|axis|axe|ax|se))$/;

/**
 * "csph", "ccyl" and "cax" beside each other: what a study calls the measurement stands before each quantity. One
 * of them alone could be a word of its own ("max", "else").
 */
function prefixedQuantities(facts: readonly ColumnFacts[]): ColumnFacts[] {
  const found = new Map<string, Set<string>>();
  const words = facts.flatMap((one) => one.bare.split(" "));
  for (const word of words) {
    const [, prefix, quantity] = prefixedQuantity.exec(word) ?? [];
    if (prefix === undefined || quantity === undefined) continue;
    found.set(prefix, (found.get(prefix) ?? new Set()).add(quantity));
  }
  const apart = (text: string) =>
    text
      .split(" ")
      .map((word) => {
        const [, prefix, quantity] = prefixedQuantity.exec(word) ?? [];
        const all = prefix === undefined ? undefined : found.get(prefix);
        const known = all?.has("sph") === true && all.has("cyl");
        return known ? `${prefix} ${quantity}` : word;
      })
      .join(" ");
  return facts.map((one) => ({ ...one, words: apart(one.words), bare: apart(one.bare) }));
}

interface Pair {
  readonly pair: string;
  readonly eye: "right" | "left";
  readonly words: string;
  readonly bare: string;
  readonly quantity: boolean;
}

/** By the name, or by cells that are powers. */
const isMeasured = (bare: string, { notation, numbers }: ColumnFacts) =>
  isQuantity(bare) || notation >= 0.5 || (numbers.share > 0.5 && numbers.whole < 1);

function wordPair(facts: ColumnFacts, names: ReadonlySet<string>): Pair | null {
  const list = facts.words.split(" ");
  for (const pair of pairs) {
    for (const [at, word] of list.entries()) {
      const place = pair.indexOf(word);
      if (place < 0 || !names.has(list.with(at, pair[1 - place]).join(" "))) continue;
      const bare = list.toSpliced(at, 1).join(" ");
      // the horizontal and the vertical of a gaze
      if (/\bgaze\b/.test(bare)) continue;
      const eye = place === 0 ? "right" : "left";
      return {
        pair: pair.join(),
        eye,
        words: facts.words,
        bare,
        quantity: isMeasured(bare, facts),
      };
    }
  }
  return null;
}

function gluedPair({ words }: ColumnFacts, names: ReadonlySet<string>): Pair | null {
  const [, letter, middle, quantity] = glued.exec(words) ?? [];
  if (letter === undefined) return null;
  const right = letter === "r";
  if (!names.has(`${right ? "l" : "r"}${words.slice(1)}`)) return null;
  const bare = `${middle} ${quantity}`;
  const eye = right ? "right" : "left";
  return { pair: "rl", eye, words: `${letter} ${bare}`, bare, quantity: true };
}
