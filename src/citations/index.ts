// What a text on a result should cite.

export { type Citation, type Citations, citationsOf, sourcesInText } from "./citationsOf.js";
