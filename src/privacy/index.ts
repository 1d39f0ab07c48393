export {
  type IdentifierKind,
  identifierKinds,
  kindOfCell,
  kindOfHeader,
  looksLikeNames,
} from "./identifierPatterns.js";
export { hashedPseudonyms, randomPseudonyms } from "./pseudonyms.js";
export { type SuppressionOptions, suppressSmallCells } from "./suppressSmallCells.js";
