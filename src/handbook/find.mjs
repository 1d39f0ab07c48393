// How the search box reads words: the same in the build, in the pages and in the tests. It imports nothing,
// since its text stands in the pages' script.

/** Words that say nothing of what is sought. */
const empty = new Set(
  "a an and are as at be by can do does for from how i if in is it its me my of on or should the to was what when where which who why with you your".split(" "),
);

/** What readers type, and what the handbook says. */
const same = {
  ambiguous: "day-first",
  bibtex: "cite",
  citation: "cite",
  dd: "day-first",
  fields: "kind",
  gee: "sites",
  heteroscedastic: "conditional",
  limitations: "cannot",
  mm: "month-first",
  overfitting: "optimism",
  publish: "public",
  untestable: "unreadable",
  ungradable: "unreadable",
};

/** Whole questions of a few words that are called otherwise here. */
const phrases = [
  [/\bsample size\b/g, "planning how many children"],
  [/\b(leading zeros?|zero-?padded|padded with zeros)( ids?)?\b/g, "leading zeros ids"],
  [/\bwhat does (.+?) mean\b/g, "$1"],
  [/\bfewer than (11|eleven)\b/g, "public journal counts"],
  [/\bhow many children (do|does|should|are needed)\b.*/g, "planning how many children"],
  [/^\s*unreadable\s*$/g, "unreadable children"],
  [/\bcould not be read\b/g, "unreadable"],
  [/\bcounts? (below|under|of fewer than) \d+\b/g, "small counts"],
  [/\bnot examined\b/g, "partial verification"],
];

export const searchOptions = {
  fields: ["title", "about", "text"],
  storeFields: ["title", "about", "place"],
  processTerm: (term) => {
    const word = term.toLowerCase();
    return empty.has(word) ? null : word;
  },
};

/** Rooms and changes hold every word: they come last. */
const worth = (place) =>
  /^(room-|changes)/.test(place) ? 0.2 : /^(guide-|recipes|answers|messages|glossary|cite)/.test(place) ? 1.6 : 1;

/** Entries that hold all of the words first, then those that hold some. */
export function find(index, typed) {
  let words = typed.toLowerCase();
  for (const [phrase, ours] of phrases) words = words.replace(phrase, ours);
  words = words.replace(/[\w-]+/g, (word) => (Object.hasOwn(same, word) ? same[word] : word));
  const search = (combineWith) =>
    index.search(words, {
      combineWith,
      prefix: (term) => term.length > 2,
      fuzzy: (term) => (term.length > 5 ? 0.15 : false),
      boost: { title: 6, about: 2 },
      boostDocument: worth,
    });
  const all = search("AND");
  const known = new Set(all.map(({ id }) => id));
  return [...all, ...search("OR").filter(({ id }) => !known.has(id))].slice(0, 12);
}
