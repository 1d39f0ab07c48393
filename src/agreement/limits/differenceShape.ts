/** Moments of the differences beyond the SD; absent where all differences are equal. */
interface DifferenceShape {
  readonly skewness?: number;
  readonly excessKurtosis?: number;
}

/** Skewness and excess kurtosis of test minus reference, from moments with divisor n. */
export function differenceShape(
  test: ArrayLike<number>,
  reference: ArrayLike<number>,
  bias: number,
): DifferenceShape {
  let [second, third, fourth] = [0, 0, 0];
  for (let row = 0; row < test.length; row++) {
    const difference = test[row] - reference[row] - bias;
    const square = difference * difference;
    second += square;
    third += square * difference;
    fourth += square * square;
  }
  if (!(second > 0)) return {};
  const n = test.length;
  return {
    skewness: third / n / (second / n) ** 1.5,
    excessKurtosis: fourth / n / (second / n) ** 2 - 3,
  };
}
