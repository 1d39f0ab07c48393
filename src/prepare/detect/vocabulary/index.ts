export * from "./asked.js";
export * from "./measured.js";
export * from "./people.js";
export { anyOf, type Words, wordPattern } from "./words.js";
