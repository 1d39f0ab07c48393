import type { Random } from "../random.js";
import { aliasTable, drawAlias } from "./aliasTable.js";
import { drawBinomial } from "./binomial.js";
import { poissonCounts } from "./poissonCounts.js";
import { poissonOnes } from "./poissonOnes.js";

/** Fills `out` with one multinomial draw. */
type MultinomialSampler = (random: Random, out: Int32Array) => void;

/**
 * Prepares draws of as many rows as there are, with replacement, as counts per cell: exactly
 * multinomial. Worth its preparation where hundreds of draws follow.
 *
 * Most rows are drawn as independent Poisson counts with total mean a little below n. Given their
 * total these are multinomial, so topping them up to n with single draws is exact; a total above n
 * is drawn afresh. Means are the same in every replicate, so a Poisson count costs one look-up, and
 * cells of one row each are looked up four at a time.
 *
 * @param counts whole numbers of 0 or more, one a cell
 */
export function multinomialSampler(counts: ArrayLike<number>): MultinomialSampler {
  return sampler(counts, intoCells);
}

/**
 * The same draws from the same random numbers, seen only through what they add up to: each row of
 * cell c adds 1 to `out[first[c]]` and 1 to `out[second[c]]`.
 */
export function multinomialAdder(
  counts: ArrayLike<number>,
  first: Int32Array,
  second: Int32Array,
): MultinomialSampler {
  return sampler(counts, intoSums(first, second));
}

/**
 * One such draw without preparation: binomial counts, cell after cell, where rows are many a cell,
 * single rows elsewhere.
 */
export function drawMultinomial(counts: ArrayLike<number>, random: Random, out: Int32Array): void {
  const n = totalOf(counts);
  if (counts.length > n / 50) {
    oneByOne(counts, n, intoCells)(random, out);
    return;
  }
  let rowsLeft = n;
  let countsLeft = n;
  for (let cell = 0; cell < counts.length; cell++) {
    const count = counts[cell];
    const drawn =
      count === countsLeft
        ? rowsLeft
        : count === 0 || rowsLeft === 0
          ? 0
          : drawBinomial(random, rowsLeft, count / countsLeft);
    out[cell] = drawn;
    rowsLeft -= drawn;
    countsLeft -= count;
  }
}

function totalOf(counts: ArrayLike<number>): number {
  let n = 0;
  for (let cell = 0; cell < counts.length; cell++) n += counts[cell];
  return n;
}

/**
 * Where drawn rows go: given cells, a function that adds counts of those from number `from` on, the
 * first `length` of `drawn`.
 */
type Sink = (
  cells: Int32Array,
) => (drawn: Int32Array, from: number, length: number, out: Int32Array) => void;

const intoCells: Sink = (cells) => (drawn, from, length, out) => {
  for (let at = 0; at < length; at++) out[cells[from + at]] += drawn[at];
};

function intoSums(first: Int32Array, second: Int32Array): Sink {
  const narrow = [first, second].every((places) => places.every((place) => place < 65_536));
  if (!narrow) {
    return (cells) => {
      const [a, b] = [cells.map((cell) => first[cell]), cells.map((cell) => second[cell])];
      return (drawn, from, length, out) => {
        for (let at = 0; at < length; at++) {
          out[a[from + at]] += drawn[at];
          out[b[from + at]] += drawn[at];
        }
      };
    };
  }
  // two places in one number: half the memory and half the reading
  return (cells) => {
    const pairs = cells.map((cell) => first[cell] | (second[cell] << 16));
    return (drawn, from, length, out) => addPairs(drawn, pairs, from, length, out);
  };
}

function addPairs(
  drawn: Int32Array,
  pairs: Int32Array,
  from: number,
  length: number,
  out: Int32Array,
): void {
  for (let at = 0; at < length; at++) {
    const count = drawn[at];
    const pair = pairs[from + at];
    out[pair & 0xffff] += count;
    out[pair >>> 16] += count;
  }
}

function sampler(counts: ArrayLike<number>, sink: Sink): MultinomialSampler {
  const n = totalOf(counts);
  return n > 64 ? toppedUp(counts, n, sink) : oneByOne(counts, n, sink);
}

const single = Int32Array.of(1);

/** Each row keeps its cell; rows are drawn by number. */
function oneByOne(counts: ArrayLike<number>, n: number, sink: Sink): MultinomialSampler {
  const cellOfRow = new Int32Array(n);
  let row = 0;
  for (let cell = 0; cell < counts.length; cell++) {
    cellOfRow.fill(cell, row, row + counts[cell]);
    row += counts[cell];
  }
  const add = sink(cellOfRow);
  return (random, out) => {
    out.fill(0);
    for (let draw = 0; draw < n; draw++) add(single, random.integer(n), 1, out);
  };
}

/** Counts drawn before they are added: few enough to stay near. */
const atOnce = 4096;

function toppedUp(counts: ArrayLike<number>, n: number, sink: Sink): MultinomialSampler {
  // few cells: short top-up and more totals drawn afresh; many cells: the other way round
  const mean = n - (counts.length < 2 * Math.sqrt(n) ? 1 : 2) * Math.sqrt(n);
  const all = Int32Array.from(counts, (_, cell) => cell);
  const ones = all.filter((cell) => counts[cell] === 1);
  const others = all.filter((cell) => counts[cell] > 1);
  const [addOnes, addOthers, addAny] = [sink(ones), sink(others), sink(all)];
  const drawOnes = poissonOnes(mean / n);
  const drawOthers = poissonCounts(Array.from(others, (cell) => (counts[cell] * mean) / n));
  const top = aliasTable(counts);
  const drawn = new Int32Array(atOnce);
  return (random, out) => {
    let total: number;
    do {
      out.fill(0);
      total = 0;
      for (let from = 0; from < others.length; from += atOnce) {
        const length = Math.min(atOnce, others.length - from);
        total += drawOthers(random, from, length, drawn);
        addOthers(drawn, from, length, out);
      }
      for (let from = 0; from < ones.length; from += atOnce) {
        const length = Math.min(atOnce, ones.length - from);
        total += drawOnes(random, length, drawn);
        addOnes(drawn, from, length, out);
      }
    } while (total > n);
    for (; total < n; total++) addAny(single, drawAlias(top, random.uniform()), 1, out);
  };
}
