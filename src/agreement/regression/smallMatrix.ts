/** Inverse of a symmetric positive definite matrix; null where it is singular to working precision. */
export function choleskyInverse(matrix: readonly (readonly number[])[]): number[][] | null {
  const p = matrix.length;
  const factor = Array.from({ length: p }, () => new Array<number>(p).fill(0));
  for (let i = 0; i < p; i++) {
    for (let j = 0; j <= i; j++) {
      let sum = matrix[i][j];
      for (let k = 0; k < j; k++) sum -= factor[i][k] * factor[j][k];
      if (i === j) {
        if (!(sum > 1e-13 * matrix[i][i])) return null;
        factor[i][i] = Math.sqrt(sum);
      } else {
        factor[i][j] = sum / factor[j][j];
      }
    }
  }
  const inverse = Array.from({ length: p }, () => new Array<number>(p).fill(0));
  for (let column = 0; column < p; column++) {
    const solved = new Array<number>(p).fill(0);
    for (let i = 0; i < p; i++) {
      let sum = i === column ? 1 : 0;
      for (let k = 0; k < i; k++) sum -= factor[i][k] * solved[k];
      solved[i] = sum / factor[i][i];
    }
    for (let i = p - 1; i >= 0; i--) {
      let sum = solved[i];
      for (let k = i + 1; k < p; k++) sum -= factor[k][i] * inverse[k][column];
      inverse[i][column] = sum / factor[i][i];
    }
  }
  return inverse;
}

/** x' A x. */
export function quadraticForm(
  x: readonly number[],
  matrix: readonly (readonly number[])[],
): number {
  return x.reduce(
    (sum, value, i) => sum + value * matrix[i].reduce((row, cell, j) => row + cell * x[j], 0),
    0,
  );
}
