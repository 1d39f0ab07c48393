import { share } from "./cellForms.js";
import type { ColumnFacts } from "./columnFacts.js";
import { kindsOfCells } from "./kindsOfCells.js";
import { wordsAlike } from "./wordLists.js";

// What the cells of a column have to be for a role that its name speaks for.

export const few = (most: number) => (facts: ColumnFacts) => facts.cells.size <= most;
export const always = () => true;
export const numeric =
  (low: number, high: number, least = 0.5) =>
  (facts: ColumnFacts) =>
    facts.numbers.share >= least &&
    facts.numbers.low >= low - 1e-9 &&
    middleWithin(facts, low, high);
const middleWithin = ({ numbers }: ColumnFacts, low: number, high: number) =>
  numbers.middle >= low && numbers.middle <= high;
export const words =
  (read: (text: string) => unknown, least = 0.75, most = 20) =>
  (facts: ColumnFacts) =>
    facts.cells.size <= most && share(facts, (text) => read(text) !== null) >= least;
export const notNumbers = (facts: ColumnFacts) => facts.numbers.share < 0.5;
/** Powers may hold codes such as 999 for nothing, so that the middle counts and not the ends. */
export const power = (low: number, high: number) => (facts: ColumnFacts) =>
  facts.filled === 0 || (facts.numbers.share >= 0.4 && middleWithin(facts, low, high));

/** "Dr Norvik", "Frau Norvik"; "E. Norvik". */
const title = /^(mr|mrs|ms|miss|dr|dra|prof|sr|sra|herr|frau|mme|mlle|m)\.? \p{L}/iu;
const initial = /^(\p{Lu}\. ?){1,2}\p{Lu}[\p{Ll}'’]+(-\p{Lu}\p{Ll}+)?$/u;
export const isPerson = (text: string) => title.test(text) || initial.test(text);
/** Words for glasses that were given, and not for glasses that were worn. */
export function isPrescribing(text: string): boolean {
  return /^(not )?(given|needed|ordered|prescribed|issued)$/.test(wordsAlike(text));
}

/** A key of numbers, as of the codes of a diagnosis. */
export function fewCodes(facts: ColumnFacts): boolean {
  return facts.numbers.whole === 1 && facts.cells.size <= 30 && facts.cells.size < facts.filled / 2;
}
/** "0012" and "0047": numbers that are words, written equally long. */
export function paddedCodes(facts: ColumnFacts): boolean {
  const lengths = new Set([...facts.cells.keys()].map((text) => text.length));
  return facts.numbers.zeros && fewCodes(facts) && lengths.size === 1 && repeats(facts);
}
export function repeats(facts: ColumnFacts): boolean {
  return facts.cells.size <= Math.max(3, facts.filled / 2) && kindsOfCells(facts) === null;
}
export function notUnique(facts: ColumnFacts): boolean {
  return facts.cells.size <= Math.max(1, facts.filled / 3);
}
export function notNumeric01(facts: ColumnFacts): boolean {
  return facts.numbers.share < 0.5 || facts.cells.size <= 3;
}
export function averageLength(facts: ColumnFacts): number {
  let letters = 0;
  for (const [text, times] of facts.cells) letters += text.length * times;
  return facts.filled === 0 ? 0 : letters / facts.filled;
}
