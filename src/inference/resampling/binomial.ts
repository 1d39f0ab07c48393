import { randomBinomial } from "d3-random";
import type { Random } from "../random.js";

/**
 * Successes among `trials` with probability `p`, drawn exactly (d3-random's sampler, which is
 * tested here against the exact probabilities).
 */
export function drawBinomial(random: Random, trials: number, p: number): number {
  return randomBinomial.source(random.uniform)(trials, p)();
}
