// How the search box reads words: the same in the build, in the pages and in the tests. It imports nothing,
// since its text stands in the pages' script.

/** Words that say nothing of what is sought. */
const empty = new Set(
  "a an and are as at be by can do does for from how i if in is it its me my of on or should the to was what when where which who why with without you your".split(" "),
);

/** What readers type, and what the handbook says. */
const same = {
  ambiguous: "day-first",
  bibtex: "cite",
  citation: "cite",
  convert: "form",
  cyl: "cylinder",
  dd: "day-first",
  download: "installed",
  failed: "unreadable",
  failure: "unreadable",
  fields: "kind",
  gee: "sites",
  heteroscedastic: "conditional",
  install: "installed",
  installation: "installed",
  installing: "installed",
  limitations: "cannot",
  mm: "month-first",
  npv: "predictive",
  overfitting: "optimism",
  ppv: "predictive",
  publish: "public",
  untestable: "unreadable",
  ungradable: "unreadable",
};

/** Whole questions of a few words that are called otherwise here. */
const phrases = [
  [/(±|\+\s?\/?\s?-|\bplus[\s-](or[\s-])?minus|\bwithin)\s*(5|five)\b( points| percent| %)?/g, "known to five points"],
  [/\b(do|does|did) not\b/g, ""],
  [/\bnon-?normal\b/g, "skewed"],
  [/\btest-?retest\b/g, "repeatability"],
  [/\b(no )?admin(istrator)?( rights)?\b/g, "installed"],
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

/** Rooms and changes hold every word: they come last. Notebooks, and whole lists whose entries are found, hold many. */
const worth = (place) =>
  /^(room-|changes)/.test(place) ? 0.2 : /^(notebook|gallery|answers|(glossary|recipes|messages)\.html$)/.test(place) ? 0.6 : /^(guide-|recipes|messages|glossary|cite)/.test(place) ? 1.6 : 1;

/** Entries that hold all of the words before those that hold some, unless the latter say much more of them. */
export function find(index, typed) {
  let words = typed.toLowerCase();
  for (const [phrase, ours] of phrases) words = words.replace(phrase, ours);
  words = words.replace(/[\w-]+/g, (word) => (Object.hasOwn(same, word) ? same[word] : word));
  const hits = index.search(words, {
    combineWith: "OR",
    prefix: (term) => term.length > 2,
    fuzzy: (term) => (term.length > 5 ? 0.15 : false),
    boost: { title: 6, about: 2 },
    boostDocument: worth,
  });
  const held = Math.max(...hits.map(({ queryTerms }) => queryTerms.length));
  const rank = ({ score, queryTerms }) => score * (queryTerms.length / held) ** 3;
  return hits.sort((one, other) => rank(other) - rank(one)).slice(0, 12);
}
