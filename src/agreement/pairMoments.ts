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

const blockLength = 512;

/**
 * One pass over the pairs in blocks that stay in cache, each block about its own means, merged by
 * Chan, Golub and LeVeque 1983: as fast as plain summing, as accurate as two passes.
 */
export function pairMoments(test: ArrayLike<number>, reference: ArrayLike<number>): PairMoments {
  const length = test.length;
  let n = 0;
  let bias = 0;
  let squares = 0;
  let meanSum = 0;
  let sumSquares = 0;
  let products = 0;
  for (let start = 0; start < length; start += blockLength) {
    const end = Math.min(length, start + blockLength);
    const m = end - start;
    let differences = 0;
    let sums = 0;
    for (let i = start; i < end; i++) {
      differences += test[i] - reference[i];
      sums += test[i] + reference[i];
    }
    const blockBias = differences / m;
    const blockSum = sums / m;
    let blockSquares = 0;
    let blockSumSquares = 0;
    let blockProducts = 0;
    for (let i = start; i < end; i++) {
      const d = test[i] - reference[i] - blockBias;
      const s = test[i] + reference[i] - blockSum;
      blockSquares += d * d;
      blockSumSquares += s * s;
      blockProducts += d * s;
    }
    const total = n + m;
    const shift = blockBias - bias;
    const sumShift = blockSum - meanSum;
    const share = (n * m) / total;
    squares += blockSquares + shift * shift * share;
    sumSquares += blockSumSquares + sumShift * sumShift * share;
    products += blockProducts + shift * sumShift * share;
    bias += (shift * m) / total;
    meanSum += (sumShift * m) / total;
    n = total;
  }
  return { n, bias, squares, meanSum, sumSquares, products };
}
