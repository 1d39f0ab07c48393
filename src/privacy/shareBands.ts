import { InputError } from "../results/index.js";
import { smallestCount } from "./smallCounts.js";

/** A band of a rate; the lower end belongs to it, and 1 to the last. */
export interface ShareBand {
  readonly low: number;
  readonly high: number;
}

const widths = [0.1, 0.2, 0.25, 0.5, 1] as const;

/**
 * Bands of a rate for the public: as narrow as a tenth, each at least `fewerThan` members of the
 * whole wide, so that a band never tells the count behind a rate, nor two bands a small difference.
 *
 * @param total number, or sum of weights, of whom the rate is a share
 * @returns ascending bands from 0 to 1; a single one where the whole is below twice `fewerThan`
 * @throws when the total is below `fewerThan`, because a rate of so few is not for the public
 *
 * @example
 * shareBands(50).map(({ low }) => low) // => [0, 0.25, 0.5, 0.75]
 */
export function shareBands(total: number, fewerThan: number = smallestCount): ShareBand[] {
  if (!(total >= fewerThan)) {
    throw new InputError(`shareBands requires at least ${fewerThan} in all, got fewer`);
  }
  const width = widths.find((one) => one * total >= fewerThan) ?? 1;
  const count = Math.round(1 / width);
  const edge = (at: number) => Number((at * width).toFixed(2));
  return Array.from({ length: count }, (_, at) => ({ low: edge(at), high: edge(at + 1) }));
}

/**
 * Bands of a rate that the public may see, at least two.
 *
 * @throws when too few share the rate for two bands
 */
export function publicBands(caller: string, total: number, rows: string): readonly ShareBand[] {
  if (total >= 2 * smallestCount) return shareBands(total);
  throw new InputError(
    `${caller} for the public requires at least ${2 * smallestCount} ${rows} behind the rate, got fewer (audience "journal" draws exact rates)`,
  );
}

/** The band that a rate lies in. */
export function bandOf(bands: readonly ShareBand[], rate: number): ShareBand {
  return bands.find(({ high }) => rate < high) ?? bands.at(-1)!;
}
