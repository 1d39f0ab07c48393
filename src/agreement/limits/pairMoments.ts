/** Sums of squares and products about the means, of differences and of what they are seen against. */
export interface PairMoments {
  readonly n: number;
  /** Mean of test minus reference. */
  readonly bias: number;
  /** Sum of squares of the differences about the bias. */
  readonly squares: number;
  /** Mean of test plus reference. */
  readonly meanSum: number;
  readonly sumSquares: number;
  readonly products: number;
  readonly far: FarDifferences;
}

/** Differences set aside on the way: all those below `lowest` or above `highest` are among them. */
export interface FarDifferences {
  readonly differences: Float64Array;
  readonly lowest: number;
  readonly highest: number;
}

const blockLength = 4096;

/** Squares below this lose digits. */
const leastSquare = 1e-280;

/** What `addBlock` leaves: its sums, and the differences that it set aside. */
const blockSums = new Float64Array(5);
const farInBlock = new Float64Array(blockLength);

/**
 * One pass over the pairs in blocks, each about the means so far, merged by Chan, Golub and LeVeque
 * 1983. What is lost by not centring a block on its own mean is below the last digit of the total,
 * because the block's distance from the means so far is part of that total.
 *
 * Differences further than `reach` SDs from the bias, both as known when a block begins, are set
 * aside, and all of the first block, so that counting those outside limits need not see the rows
 * again.
 */
export function pairMoments(
  test: ArrayLike<number>,
  reference: ArrayLike<number>,
  reach = Number.POSITIVE_INFINITY,
): PairMoments {
  const length = test.length;
  let n = 0;
  let [bias, meanSum] = firstMeans(test, reference);
  let squares = 0;
  let sumSquares = 0;
  let products = 0;
  let far = new Float64Array(Math.min(length, blockLength + Math.floor(length / 10)));
  let kept = 0;
  let lowest = Number.POSITIVE_INFINITY;
  let highest = Number.NEGATIVE_INFINITY;
  for (let start = 0; start < length; start += blockLength) {
    const end = Math.min(length, start + blockLength);
    const m = end - start;
    const away = reach * Math.sqrt(squares / n);
    const beyond = away * away > leastSquare ? away * away : -1;
    if (beyond > 0) {
      // A little further than `away`: no rounding of a square may lose a row.
      lowest = Math.min(lowest, bias - away * (1 + 1e-12));
      highest = Math.max(highest, bias + away * (1 + 1e-12));
    }
    const used = addBlock({ test, reference, start, end }, { bias, meanSum, beyond });
    const [differences, sums, blockSquares, blockSumSquares, blockProducts] = blockSums;
    if (kept + used > far.length) far = enlarged(far, Math.min(length, 2 * far.length + used));
    far.set(farInBlock.subarray(0, used), kept);
    kept += used;
    // From the means so far to those of the block.
    const shift = differences / m;
    const sumShift = sums / m;
    const total = n + m;
    const share = (n * m) / total;
    squares += blockSquares - m * shift * shift + shift * shift * share;
    sumSquares += blockSumSquares - m * sumShift * sumShift + sumShift * sumShift * share;
    products += blockProducts - m * shift * sumShift + shift * sumShift * share;
    bias += (shift * m) / total;
    meanSum += (sumShift * m) / total;
    n = total;
  }
  return {
    n,
    bias,
    squares: withoutDust(squares, bias * bias * n),
    meanSum,
    sumSquares: withoutDust(sumSquares, meanSum * meanSum * n),
    products,
    far: { differences: far.subarray(0, kept), lowest, highest },
  };
}

interface PairRange {
  readonly test: ArrayLike<number>;
  readonly reference: ArrayLike<number>;
  readonly start: number;
  readonly end: number;
}

/**
 * Sums of one block about given means, and how many of its differences have squares beyond a bound.
 * A function of its own, so that its few sums stay in registers.
 */
function addBlock(
  { test, reference, start, end }: PairRange,
  { bias, meanSum, beyond }: { bias: number; meanSum: number; beyond: number },
): number {
  let used = 0;
  let differences = 0;
  let sums = 0;
  let squares = 0;
  let sumSquares = 0;
  let products = 0;
  for (let i = start; i < end; i++) {
    const t = test[i];
    const r = reference[i];
    const difference = t - r;
    const d = difference - bias;
    const s = t + r - meanSum;
    const square = d * d;
    // Written always, kept if far: a branch that is taken now and then costs more.
    farInBlock[used] = difference;
    used += Number(square > beyond);
    differences += d;
    sums += s;
    squares += square;
    sumSquares += s * s;
    products += d * s;
  }
  blockSums[0] = differences;
  blockSums[1] = sums;
  blockSums[2] = squares;
  blockSums[3] = sumSquares;
  blockSums[4] = products;
  return used;
}

function enlarged(values: Float64Array, length: number) {
  const more = new Float64Array(length);
  more.set(values);
  return more;
}

/** Means of the first block, to begin near the data. */
function firstMeans(test: ArrayLike<number>, reference: ArrayLike<number>): [number, number] {
  const m = Math.min(test.length, blockLength);
  let [differences, sums] = [0, 0];
  for (let i = 0; i < m; i++) {
    differences += test[i] - reference[i];
    sums += test[i] + reference[i];
  }
  return [differences / m, sums / m];
}

/** 0 where nothing but rounding of the mean is left; NaN stays. */
function withoutDust(squares: number, meanSquares: number): number {
  return squares <= 1e-30 * meanSquares ? 0 : squares;
}
