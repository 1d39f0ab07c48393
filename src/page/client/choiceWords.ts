/** Choices of a protocol and what they are called, once: for the menus, and before the run. */
type Words = readonly (readonly [value: string, words: string])[];

export const audiences: Words = [
  ["public", "anybody: counts are coarse, no eye is drawn"],
  ["journal", "colleagues who may see every eye"],
];
export const repeats: Words = [
  ["first", "the first counts"],
  ["last", "the last counts"],
  ["highest-confidence", "the most confident counts"],
];
export const verifications: Words = [
  ["complete", "all of them"],
  ["partial", "some of them"],
  ["none", "none of them"],
];
export const samplings: Words = [
  ["cohort", "as a programme meets them"],
  ["enriched", "as a clinic meets them, with more of those who have the condition"],
];
/** Who is counted, and by which eye: two keys of a protocol that belong together. */
export const counted: Words = [
  ["child worse", "each child once, by the eye with the more extreme value"],
  ["child right", "each child once, by the right eye"],
  ["child left", "each child once, by the left eye"],
  ["child random", "each child once, by one eye that is drawn"],
  ["eye right", "right eyes"],
  ["eye left", "left eyes"],
  ["eye both", "both eyes, each by itself"],
];
export const undecidables: Words = [
  ["refer", "referred"],
  ["pass", "passed"],
  ["exclude", "left out"],
];
export const quantities: Words = [
  ["M", "M, spherical equivalent"],
  ["J0", "J0, astigmatism along 180 and 90"],
  ["J45", "J45, oblique astigmatism"],
];
export const relations: Words = [
  ["<=", "≤ (at or below)"],
  ["<", "< (below)"],
  [">=", "≥ (at or above)"],
  [">", "> (above)"],
];
export const deciders: Words = [
  ["recorded", "as a column of the readings records it"],
  ["studied", "by the referral under study"],
  ["limit", "by another limit"],
  ["unknown", "that is not known"],
];

/** The words of a choice; the value itself where it has none. */
export function wordsOf(choices: Words, value: string): string {
  return choices.find(([one]) => one === value)?.[1] ?? value;
}
