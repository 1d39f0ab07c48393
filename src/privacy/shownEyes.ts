import { shuffleInPlace } from "simple-statistics";
import { createRandom } from "../inference/index.js";
import type { Audience } from "./audience.js";
import { mostPairs, rounded } from "./shownPairs.js";

/**
 * Several numbers of each eye together, as figures that are linked need them. Together they say more of an eye
 * than a mark of a single figure, so they are coarser: rounded to 0.25, ages to bands of three years by their
 * first, in a shuffled order, and for a journal alone. Null for the public, and beyond 4,000 eyes, where each
 * figure has cells of its own and nothing joins them.
 *
 * @param columns columns of one length; NaN is missing and becomes null
 */
export function shownEyes(
  columns: {
    readonly ageYears?: ArrayLike<number>;
    readonly [name: string]: ArrayLike<number> | undefined;
  },
  { audience = "public" }: { readonly audience?: Audience } = {},
): { readonly [name: string]: number | null }[] | null {
  const given = Object.entries(columns).flatMap(([name, values]) =>
    values === undefined ? [] : [{ name, values }],
  );
  const n = given[0]?.values.length ?? 0;
  if (audience === "public" || n > mostPairs) return null;
  const shown = (name: string, value: number) =>
    name === "ageYears" ? 3 * Math.floor(value / 3) : rounded(value, 0.25);
  const eyes = Array.from({ length: n }, (_, row) =>
    Object.fromEntries(
      given.map(({ name, values }) => {
        const value = values[row]!;
        return [name, Number.isNaN(value) ? null : shown(name, value)];
      }),
    ),
  );
  // sorted first, so that the shuffle cannot be undone to the order of the rows
  const keys = new Map(eyes.map((eye) => [eye, JSON.stringify(Object.values(eye))]));
  eyes.sort((a, b) => (keys.get(a)! < keys.get(b)! ? -1 : 1));
  shuffleInPlace(eyes, createRandom(1).uniform);
  return eyes;
}
