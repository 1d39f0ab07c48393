/**
 * The second implementation: everything from the 2x2 power matrix, built by its definition
 * (Long 1976) as `S I + C n n'`, n being the unit vector across the axis. No double angle anywhere.
 */
export type Matrix = readonly [readonly [number, number], readonly [number, number]];

export function matrixOf(rx: {
  readonly sphere: number;
  readonly cylinder: number;
  readonly axis: number | null;
}): Matrix {
  const angle = ((rx.axis ?? 0) * Math.PI) / 180;
  const [nx, ny] = [-Math.sin(angle), Math.cos(angle)];
  return [
    [rx.sphere + rx.cylinder * nx * nx, rx.cylinder * nx * ny],
    [rx.cylinder * ny * nx, rx.sphere + rx.cylinder * ny * ny],
  ];
}

/** Components on the identity and the two cross cylinders. */
export function vectorOf([[xx, xy], [yx, yy]]: Matrix) {
  return { M: (xx + yy) / 2, J0: (xx - yy) / 2, J45: (xy + yx) / 2 };
}

export function quadraticForm([[xx, xy], [yx, yy]]: Matrix, meridian: number): number {
  const angle = (meridian * Math.PI) / 180;
  const [ux, uy] = [Math.cos(angle), Math.sin(angle)];
  return ux * (xx * ux + xy * uy) + uy * (yx * ux + yy * uy);
}

/** Of a symmetric matrix, ascending. */
export function eigenvalues([[xx, xy], [, yy]]: Matrix): readonly [number, number] {
  const middle = (xx + yy) / 2;
  const spread = Math.hypot((xx - yy) / 2, xy);
  return [middle - spread, middle + spread];
}

export function sum(a: Matrix, b: Matrix): Matrix {
  return [
    [a[0][0] + b[0][0], a[0][1] + b[0][1]],
    [a[1][0] + b[1][0], a[1][1] + b[1][1]],
  ];
}

export function matrixMean(matrices: readonly Matrix[]): Matrix {
  const [[xx, xy], [yx, yy]] = matrices.reduce(sum);
  const n = matrices.length;
  return [
    [xx / n, xy / n],
    [yx / n, yy / n],
  ];
}

/** Seen with left and right exchanged: R F R with R = diag(-1, 1). */
export function mirrored([[xx, xy], [yx, yy]]: Matrix): Matrix {
  return [
    [xx, -xy],
    [-yx, yy],
  ];
}

/** F (I - dF)^-1, d in metres. */
export function movedMatrix([[xx, xy], [yx, yy]]: Matrix, d: number): Matrix {
  const [a, b, c, e] = [1 - d * xx, -d * xy, -d * yx, 1 - d * yy];
  const determinant = a * e - b * c;
  const inverse: Matrix = [
    [e / determinant, -b / determinant],
    [-c / determinant, a / determinant],
  ];
  return [
    [xx * inverse[0][0] + xy * inverse[1][0], xx * inverse[0][1] + xy * inverse[1][1]],
    [yx * inverse[0][0] + yy * inverse[1][0], yx * inverse[0][1] + yy * inverse[1][1]],
  ];
}
