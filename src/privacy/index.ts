export { type SuppressionOptions, suppressSmallCells } from "./suppressSmallCells.js";
