import { aliasTable, drawAlias } from "./aliasTable.js";
import { drawBinomial } from "./binomial.js";
import { type PoissonDraw, poissonDraw } from "./poissonDraw.js";
import { poissonOnes } from "./poissonOnes.js";
import type { Random } from "./random.js";

/** Fills `out` with one multinomial draw. */
export type MultinomialSampler = (random: Random, out: Int32Array) => void;

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
  const n = totalOf(counts);
  // few cells: short top-up and more totals drawn afresh; many cells: the other way round
  const reserve = (counts.length < 2 * Math.sqrt(n) ? 1 : 2) * Math.sqrt(n);
  return n > 64 ? toppedUp(counts, n, n - reserve) : oneByOne(counts, n);
}

/**
 * One such draw without preparation: binomial counts, cell after cell, where rows are many a cell,
 * single rows elsewhere.
 */
export function drawMultinomial(counts: ArrayLike<number>, random: Random, out: Int32Array): void {
  const n = totalOf(counts);
  if (counts.length > n / 50) {
    oneByOne(counts, n)(random, out);
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

/** Each row keeps its cell; rows are drawn by number. */
function oneByOne(counts: ArrayLike<number>, n: number): MultinomialSampler {
  const cellOfRow = new Int32Array(n);
  let row = 0;
  for (let cell = 0; cell < counts.length; cell++) {
    cellOfRow.fill(cell, row, row + counts[cell]);
    row += counts[cell];
  }
  return (random, out) => {
    out.fill(0);
    for (let draw = 0; draw < n; draw++) out[cellOfRow[random.integer(n)]]++;
  };
}

function toppedUp(counts: ArrayLike<number>, n: number, mean: number): MultinomialSampler {
  const singles: number[] = [];
  const others: { cell: number; draw: PoissonDraw }[] = [];
  const draws = new Map<number, PoissonDraw>();
  for (let cell = 0; cell < counts.length; cell++) {
    const count = counts[cell];
    if (count === 1) singles.push(cell);
    else if (count > 0) {
      const draw = draws.get(count) ?? poissonDraw((count * mean) / n);
      draws.set(count, draw);
      others.push({ cell, draw });
    }
  }
  const drawOnes = poissonOnes(Int32Array.from(singles), mean / n);
  const top = aliasTable(counts);
  return (random, out) => {
    let drawn: number;
    do {
      out.fill(0);
      drawn = 0;
      for (const { cell, draw } of others) {
        const count = draw.from + drawAlias(draw.table, random.uniform());
        out[cell] = count;
        drawn += count;
      }
      drawn += drawOnes(random, out);
    } while (drawn > n);
    for (; drawn < n; drawn++) out[drawAlias(top, random.uniform())]++;
  };
}
