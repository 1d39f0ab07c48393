import type { Random } from "../random.js";
import { drawMultinomial, multinomialSampler } from "./multinomial.js";
import type { ResampleUnits } from "./resampleUnits.js";

/** Prepares resampling of a plan's units within their groups, as numbers per type. */
export function unitSampler(units: ResampleUnits): (random: Random, drawn: Int32Array) => void {
  const groups = groupsOf(units).map(([from, to]) => ({
    from,
    to,
    draw: multinomialSampler(units.counts.subarray(from, to)),
  }));
  return (random, drawn) => {
    for (const { from, to, draw } of groups) draw(random, drawn.subarray(from, to));
  };
}

/** Resamples once from other numbers per type, without preparation. */
export function redrawUnits(
  units: ResampleUnits,
  counts: Int32Array,
  random: Random,
  drawn: Int32Array,
): void {
  for (const [from, to] of groupsOf(units)) {
    drawMultinomial(counts.subarray(from, to), random, drawn.subarray(from, to));
  }
}

function groupsOf({ groupStart }: ResampleUnits): [number, number][] {
  return Array.from(groupStart.subarray(1), (end, group) => [groupStart[group], end]);
}
