import type { Random } from "../random.js";
import { drawBinomial } from "./binomial.js";
import { poissonCounts } from "./poissonCounts.js";

/** Fills `out` with one multinomial draw. */
type MultinomialSampler = (random: Random, out: Int32Array) => void;

/** Cells of one row each are drawn as many at a time: four random bits tell them apart. */
const blockSize = 16;

/**
 * Prepares draws of as many rows as there are, with replacement, as counts per cell: exactly
 * multinomial. Worth its preparation where hundreds of draws follow.
 *
 * Most rows are drawn as independent Poisson counts with total mean a little below n. Given their
 * total these are multinomial, so topping them up to n with single draws is exact; a total above n
 * is drawn afresh. Means are the same in every replicate, so a Poisson count costs one look-up. Cells
 * of one row each share a count by blocks, whose rows fall on each of them alike.
 *
 * @param counts whole numbers of 0 or more, one a cell
 */
export function multinomialSampler(counts: ArrayLike<number>): MultinomialSampler {
  const n = totalOf(counts);
  const addRows = rowByRow(counts);
  if (n <= 64) {
    return (random, out) => {
      out.fill(0);
      addRows(random, n, out);
    };
  }
  const cells = Int32Array.from(counts, (_, cell) => cell);
  const ones = cells.filter((cell) => counts[cell] === 1);
  const blocks = Math.floor(ones.length / blockSize);
  const blockCells = ones.subarray(0, blocks * blockSize);
  const others = [...cells.filter((cell) => counts[cell] > 1), ...ones.subarray(blockCells.length)];
  // few cells: short top-up and more totals drawn afresh; many cells: the other way round
  const mean = n - (counts.length < 2 * Math.sqrt(n) ? 1 : 2) * Math.sqrt(n);
  const expected = [
    ...others.map((cell) => counts[cell]),
    ...new Array<number>(blocks).fill(blockSize),
  ];
  const drawCounts = poissonCounts(expected.map((count) => (count * mean) / n));
  const drawn = new Int32Array(expected.length);
  return (random, out) => {
    let total: number;
    do total = drawCounts(random, drawn);
    while (total > n);
    out.fill(0);
    for (let at = 0; at < others.length; at++) out[others[at]] = drawn[at];
    addBlocks(random, blockCells, drawn.subarray(others.length), out);
    addRows(random, n - total, out);
  };
}

/**
 * One such draw without preparation: binomial counts, cell after cell, where rows are many a cell,
 * single rows elsewhere.
 */
export function drawMultinomial(counts: ArrayLike<number>, random: Random, out: Int32Array): void {
  const n = totalOf(counts);
  out.fill(0);
  if (counts.length > n / 50) {
    rowByRow(counts)(random, n, out);
    return;
  }
  let rowsLeft = n;
  let countsLeft = n;
  for (let cell = 0; rowsLeft > 0; cell++) {
    out[cell] = drawBinomial(random, rowsLeft, counts[cell] / countsLeft);
    rowsLeft -= out[cell];
    countsLeft -= counts[cell];
  }
}

function totalOf(counts: ArrayLike<number>): number {
  let n = 0;
  for (let cell = 0; cell < counts.length; cell++) n += counts[cell];
  return n;
}

/** Adds single rows to their cells, drawn by number. */
function rowByRow(
  counts: ArrayLike<number>,
): (random: Random, rows: number, out: Int32Array) => void {
  const cellOfRow = new Int32Array(totalOf(counts));
  let row = 0;
  for (let cell = 0; cell < counts.length; cell++) {
    cellOfRow.fill(cell, row, row + counts[cell]);
    row += counts[cell];
  }
  return (random, rows, out) => {
    for (let draw = 0; draw < rows; draw++) out[cellOfRow[random.integer(row)]]++;
  };
}

/** Adds each block's rows to its cells. */
function addBlocks(
  random: Random,
  blockCells: Int32Array,
  rowsOfBlock: Int32Array,
  out: Int32Array,
): void {
  let bits = 0;
  let left = 0;
  for (let block = 0; block < rowsOfBlock.length; block++) {
    const from = block * blockSize;
    for (let rows = rowsOfBlock[block]; rows > 0; rows--) {
      if (left === 0) {
        bits = random.bits();
        left = 8;
      }
      out[blockCells[from + (bits & 15)]]++;
      bits >>>= 4;
      left--;
    }
  }
}
