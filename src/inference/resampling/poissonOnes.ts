import type { Random } from "../random.js";
import { aliasTable, drawAlias } from "./aliasTable.js";
import { poissonWeights } from "./poissonDraw.js";

/** Counts up to this one are looked up four at a time. */
const most = 4;
const side = most + 1;
const fours = side ** 4;

/**
 * Poisson counts of one small mean (up to about 1), four at a look-up: fills the first `length`
 * places of `out` and returns their sum. A slot of the table is a quadruple of counts up to 4; four
 * further slots stand for "the first count above 4 is at place j", where the counts are then drawn
 * one by one from their conditional distributions. Exact.
 */
export function poissonOnes(
  mean: number,
): (random: Random, length: number, out: Int32Array) => number {
  const weights = poissonWeights(mean);
  const total = weights.reduce((sum, p) => sum + p, 0);
  const p = weights.map((weight) => weight / total);
  const low = p.slice(0, side);
  const high = p.slice(side);
  const { stay, alias, size } = aliasTable(jointWeights(low, high));
  // the code of each slot and then that of its alias: chosen without a branch, which would be a guess
  const codes = Int32Array.from({ length: 2 * size }, (_, at) =>
    packed(at % 2 === 0 ? at / 2 : alias[(at - 1) / 2]),
  );
  const [lowTable, highTable, all] = [aliasTable(low), aliasTable(high), aliasTable(p)];
  const one = (random: Random, place: number, first: number): number => {
    const uniform = random.uniform();
    if (place < first) return drawAlias(lowTable, uniform);
    return place === first ? side + drawAlias(highTable, uniform) : drawAlias(all, uniform);
  };
  return (random, length, out) => {
    const whole = length - (length % 4);
    let drawn = 0;
    for (let at = 0; at < whole; at += 4) {
      const scaled = random.uniform() * size;
      const slot = scaled | 0;
      const code = codes[2 * slot + Number(scaled - slot >= stay[slot])];
      if (code >= 0) {
        out[at] = code & 7;
        out[at + 1] = (code >> 3) & 7;
        out[at + 2] = (code >> 6) & 7;
        out[at + 3] = (code >> 9) & 7;
        drawn += code >> 12;
      } else {
        for (let place = 0; place < 4; place++) {
          out[at + place] = one(random, place, -1 - code);
          drawn += out[at + place];
        }
      }
    }
    for (let at = whole; at < length; at++) {
      out[at] = one(random, 1, 0);
      drawn += out[at];
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
