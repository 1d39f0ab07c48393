// Identifiers, pseudonyms, small counts, and what an audience may see.

export { type Astigmatism, astigmatismPoints } from "./astigmatismPoints.js";
export {
  type Audience,
  leastFor,
  mayShow,
  requireShowable,
  shownRange,
} from "./audience.js";
export { countsAlong } from "./countsAlong.js";
export { differencePoints, type PairedColumns } from "./differencePoints.js";
export { type FlowStep, flowSteps, type LeftOut } from "./flowSteps.js";
export type { PairCell } from "./grownCells.js";
export {
  type IdentifierKind,
  identifierKinds,
  kindOfCell,
  kindOfHeader,
  looksLikeNames,
} from "./identifierPatterns.js";
export { keptCounts } from "./keptCounts.js";
export { hashedPseudonyms, randomPseudonyms } from "./pseudonyms.js";
export { bandOf, publicBands, type ShareBand } from "./shareBands.js";
export { shownGrid } from "./shownGrid.js";
export {
  type CoarsePairs,
  coarsePairs,
  isShownPairs,
  type PointOptions,
  type RoundedPair,
  type ShownPairs,
  shownPairs,
} from "./shownPairs.js";
export { shownPoints } from "./shownPoints.js";
export { type CountedRow, shownRows } from "./shownRows.js";
export { shownTables } from "./shownTables.js";
export { shownTogether } from "./shownTogether.js";
export { hasSmallCell, isSmallCount, smallestCount } from "./smallCounts.js";
export { type SuppressionOptions, suppressSmallCells } from "./suppressSmallCells.js";
export { shownEyes } from "./shownEyes.js";
