import { aliasTable, drawAlias } from "./aliasTable.js";
import { poissonWeights } from "./poissonDraw.js";
import type { Random } from "./random.js";

/** Counts up to this one are looked up four at a time. */
const most = 4;
const side = most + 1;
const fours = side ** 4;

/**
 * Poisson counts of one small mean (up to about 1) for many cells, four at a look-up: fills `out` at
 * these cells and returns the sum. A slot of the table is a quadruple of counts up to 4; four
 * further slots stand for "the first count above 4 is at place j", where the counts are then drawn
 * one by one from their conditional distributions. Exact.
 */
export function poissonOnes(
  cells: Int32Array,
  mean: number,
): (random: Random, out: Int32Array) => number {
  const weights = poissonWeights(mean);
  const total = weights.reduce((sum, p) => sum + p, 0);
  const p = weights.map((weight) => weight / total);
  const low = p.slice(0, side);
  const high = p.slice(side);
  const joint = aliasTable(jointWeights(low, high));
  const { stay, alias, size } = joint;
  const codes = Int32Array.from({ length: size }, (_, slot) => packed(slot));
  const aliasCodes = Int32Array.from({ length: size }, (_, slot) => codes[alias[slot]]);
  const [lowTable, highTable, all] = [aliasTable(low), aliasTable(high), aliasTable(p)];
  const one = (random: Random, place: number, first: number): number => {
    const uniform = random.uniform();
    if (place < first) return drawAlias(lowTable, uniform);
    return place === first ? side + drawAlias(highTable, uniform) : drawAlias(all, uniform);
  };
  const whole = cells.length - (cells.length % 4);
  return (random, out) => {
    let drawn = 0;
    for (let at = 0; at < whole; at += 4) {
      const scaled = random.uniform() * size;
      const slot = Math.floor(scaled);
      const code = scaled - slot < stay[slot] ? codes[slot] : aliasCodes[slot];
      if (code >= 0) {
        out[cells[at]] = code & 7;
        out[cells[at + 1]] = (code >> 3) & 7;
        out[cells[at + 2]] = (code >> 6) & 7;
        out[cells[at + 3]] = (code >> 9) & 7;
        drawn += code >> 12;
      } else {
        for (let place = 0; place < 4; place++) {
          const count = one(random, place, -1 - code);
          out[cells[at + place]] = count;
          drawn += count;
        }
      }
    }
    for (let at = whole; at < cells.length; at++) {
      const count = one(random, 1, 0);
      out[cells[at]] = count;
      drawn += count;
    }
    return drawn;
  };
}

function jointWeights(low: readonly number[], high: readonly number[]): number[] {
  const within = low.reduce((sum, q) => sum + q, 0);
  const beyond = high.reduce((sum, q) => sum + q, 0);
  const weights: number[] = [];
  for (let slot = 0; slot < fours; slot++) {
    weights.push(places(slot).reduce((product, count) => product * low[count], 1));
  }
  for (let place = 0; place < 4; place++) weights.push(within ** place * beyond);
  return weights;
}

/** Four counts in three bits each, then their sum; -1 - j stands for "the first above 4 is at j". */
function packed(slot: number): number {
  if (slot >= fours) return -1 - (slot - fours);
  const counts = places(slot);
  const sum = counts.reduce((total, count) => total + count, 0);
  return counts.reduce((code, count, place) => code | (count << (3 * place)), sum << 12);
}

function places(slot: number): number[] {
  return [0, 1, 2, 3].map((place) => Math.floor(slot / side ** place) % side);
}
