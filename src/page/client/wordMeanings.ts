import type { Json } from "./json.js";

type Meanings = readonly (readonly [value: string, words: string])[];

const yesNo: Meanings = [
  ["yes", "yes"],
  ["no", "no"],
  ["unknown", "not known"],
];
const drops: Meanings = [
  ["none", "no drops"],
  ["inadequate", "drops, not in full"],
  ["full", "in full cycloplegia"],
  ["unknown", "not known"],
];

/** Columns of words that a mapping reads by codes: what they are about, and what a word can mean there. */
export const wordColumns: {
  readonly [key: string]: { readonly about: string; readonly meanings: Meanings };
} = {
  verificationReason: {
    about: "why a child was examined",
    meanings: [
      ["referred", "referred by the screening"],
      ["sampled", "drawn at random of those who passed"],
      ["self-presented", "came unasked: own or parents' wish, or sent by others"],
      ["unknown", "another reason, or not known"],
    ],
  },
  programmeDecision: {
    about: "what the programme decided",
    meanings: [
      ["refer", "referred"],
      ["pass", "passed"],
      ["unable", "no decision: could not be measured"],
      ["unknown", "not known"],
    ],
  },
  status: {
    about: "whether an eye was measured",
    meanings: [
      ["measured", "measured"],
      ["unreadable", "the eye could not be measured"],
      ["over-range", "above what the instrument reads"],
      ["under-range", "below what the instrument reads"],
      ["not-attempted", "no measurement was tried"],
    ],
  },
  cycloplegia: { about: "drops", meanings: drops },
  strabismus: { about: "strabismus", meanings: yesNo },
  mediaOpacity: { about: "opacity of the media", meanings: yesNo },
  ptosis: { about: "ptosis", meanings: yesNo },
  glassesPrescribed: { about: "glasses prescribed", meanings: yesNo },
  knownBefore: { about: "known before", meanings: yesNo },
  selfPresented: { about: "came unasked", meanings: yesNo },
  invited: { about: "asked to an exam", meanings: yesNo },
  came: { about: "came to an exam", meanings: yesNo },
};

/** What a block of a mapping reads from a column by words; null where it is none of these. */
export function keyOfColumn(blocks: readonly Json[], column: string | null): string | null {
  for (const { columns, right, left } of blocks) {
    for (const part of [columns, right, left]) {
      for (const [key, name] of Object.entries(part ?? {})) {
        if (name === column && wordColumns[key] !== undefined) return key;
      }
    }
  }
  return null;
}

/** The blocks that read a key from a column. */
const blocksWith = (blocks: readonly Json[], key: string): readonly Json[] =>
  blocks.filter(({ columns, right, left }) =>
    [columns, right, left].some((part) => part?.[key] !== undefined),
  );

/** What the words of a key mean as the mapping stands. */
export function codesOf(blocks: readonly Json[], key: string): { readonly [word: string]: string } {
  const all = blocksWith(blocks, key).map((block) => block[key]?.codes ?? {});
  return Object.assign({}, ...all);
}

/** Says of a word what it means, in every block that reads the key. */
export function setCode(blocks: readonly Json[], key: string, word: string, means: string): void {
  for (const block of blocksWith(blocks, key)) {
    // without codes the words stand for themselves
    const own = wordColumns[key].meanings.map(([value]) => [value, value]);
    const before = block[key]?.codes ?? Object.fromEntries(own);
    block[key] = { codes: { ...before, [word]: means } };
  }
}
