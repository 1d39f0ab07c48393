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
}

const blockLength = 4096;

/**
 * One pass over the pairs in blocks, each about the means so far, merged by Chan, Golub and LeVeque
 * 1983. What is lost by not centring a block on its own mean is below the last digit of the total,
 * because the block's distance from the means so far is part of that total.
 */
export function pairMoments(test: ArrayLike<number>, reference: ArrayLike<number>): PairMoments {
  const length = test.length;
  let n = 0;
  let [bias, meanSum] = firstMeans(test, reference);
  let squares = 0;
  let sumSquares = 0;
  let products = 0;
  for (let start = 0; start < length; start += blockLength) {
    const end = Math.min(length, start + blockLength);
    const m = end - start;
    let differences = 0;
    let sums = 0;
    let blockSquares = 0;
    let blockSumSquares = 0;
    let blockProducts = 0;
    for (let i = start; i < end; i++) {
      const t = test[i];
      const r = reference[i];
      const d = t - r - bias;
      const s = t + r - meanSum;
      differences += d;
      sums += s;
      blockSquares += d * d;
      blockSumSquares += s * s;
      blockProducts += d * s;
    }
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
  };
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
