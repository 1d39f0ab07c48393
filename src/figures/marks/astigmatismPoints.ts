import { type Plotted, type PointOptions, plottedPoints } from "./points.js";

/** The astigmatic part of a power vector. */
export interface Astigmatism {
  readonly J0: number;
  readonly J45: number;
}

/**
 * What a double-angle figure may carry of eyes: J0 as x, J45 as y. For the public, counts in cells
 * of at least 11 eyes; for the audience "journal" a mark an eye, rounded to 0.05 D and in shuffled
 * order.
 *
 * @throws when a component is not a number
 *
 * @example
 * astigmatismPoints([{ J0: 0.5, J45: 0.11 }], { audience: "journal" }).marks // => [{ x: 0.5, y: 0.1 }]
 */
export function astigmatismPoints(
  vectors: ArrayLike<Astigmatism>,
  options: PointOptions = {},
): Plotted {
  const list = Array.from(vectors);
  return plottedPoints(
    { x: list.map(({ J0 }) => J0), y: list.map(({ J45 }) => J45) },
    { cell: 0.25, ...options },
  );
}
