import { type PointOptions, type ShownPairs, shownPairs } from "./shownPairs.js";

/** The astigmatic part of a power vector. */
export interface Astigmatism {
  readonly J0: number;
  readonly J45: number;
}

/**
 * What an audience may see of the astigmatism of eyes: J0 as x, J45 as y. For the public, counts in
 * cells of at least 11 eyes; for the audience "journal" a pair an eye, rounded to 0.05 D (where all lie on
 * sixteenths, as they are) and in shuffled order.
 *
 * @throws when a component is not a number
 *
 * @example
 * astigmatismPoints([{ J0: 0.5, J45: 0.11 }], { audience: "journal" }).pairs // => [{ x: 0.5, y: 0.1 }]
 */
export function astigmatismPoints(
  vectors: ArrayLike<Astigmatism>,
  options: PointOptions = {},
): ShownPairs {
  const list = Array.from(vectors);
  return shownPairs({ x: list.map(({ J0 }) => J0), y: list.map(({ J45 }) => J45) }, options);
}
