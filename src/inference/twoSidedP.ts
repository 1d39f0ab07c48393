import { normalCdf } from "./distributions.js";

/** Two-sided p of a standard normal statistic. */
export const twoSidedP = (z: number): number => Math.min(1, 2 * normalCdf(-Math.abs(z)));
