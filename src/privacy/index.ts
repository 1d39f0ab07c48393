// Identifiers, pseudonyms, small counts.

export {
  type IdentifierKind,
  identifierKinds,
  kindOfCell,
  kindOfHeader,
  looksLikeNames,
} from "./identifierPatterns.js";
export { hashedPseudonyms, randomPseudonyms } from "./pseudonyms.js";
export { type ShareBand, shareBands } from "./shareBands.js";
export { shownTogether } from "./shownTogether.js";
export { isSmallCount, smallestCount } from "./smallCounts.js";
export { type SuppressionOptions, suppressSmallCells } from "./suppressSmallCells.js";
