/** The languages whose names of columns are known; "any" is what several of them share. */
type Language =
  | "any"
  | "english"
  | "spanish"
  | "portuguese"
  | "french"
  | "german"
  | "italian"
  | "dutch"
  | "nordic"
  | "polish"
  | "turkish"
  | "indonesian";

/** The words for one thing; a word that ends in "*" goes on, and "_" is the blank within one. */
export type Words = Readonly<Partial<Record<Language, string>>>;

/** The pattern of all words for a thing, in small letters without accents. */
export function wordPattern(...lists: readonly Words[]): string {
  const all = lists
    .flatMap((list) => Object.values(list))
    .flatMap((text) => text.trim().split(/\s+/));
  const patterns = all.map((word) => word.replaceAll("*", "\\w*").replaceAll("_", " "));
  return `\\b(?:${patterns.join("|")})\\b`;
}

export const anyOf = (...lists: readonly Words[]): RegExp => new RegExp(wordPattern(...lists));

/** The words that stand for themselves, without those that go on. */
export function plainWords(list: Words): string[] {
  return Object.values(list)
    .flatMap((text) => text.trim().split(/\s+/))
    .filter((word) => /^[a-z]+$/.test(word));
}
