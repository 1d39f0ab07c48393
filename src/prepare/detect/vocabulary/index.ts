import * as asked from "./asked.js";
import * as elsewhen from "./elsewhen.js";
import * as measured from "./measured.js";
import * as people from "./people.js";
import { plainWords } from "./words.js";

export * from "./asked.js";
export * from "./elsewhen.js";
export * from "./measured.js";
export * from "./people.js";
export { anyOf, type Words, wordPattern } from "./words.js";

const all = new Set(
  [asked, elsewhen, measured, people].flatMap((room) => Object.values(room).flatMap(plainWords)),
);

/** A word of its own, although it could be taken apart ("axel" is no left axis). */
export function isWord(word: string): boolean {
  return word.length > 3 && all.has(word);
}
