import { InputError } from "../results/index.js";
import { requireWhole } from "./requireWhole.js";

/** Options of a bootstrap. */
export interface Draws {
  readonly seed: number;
  /** 2000 by default. */
  readonly replicates: number;
}

/**
 * Seed and number of draws, checked: with sites above children there are none, as a jackknife over
 * them draws nothing.
 *
 * @param options as the caller gave them, and its `clusters`
 * @param when where a seed is needed, from "with" or "where" on
 * @throws InputError without a seed, or naming the key that came beside clusters
 */
export function requireDraws(
  caller: string,
  options: Partial<Draws>,
  { clusters, when }: { readonly clusters: unknown; readonly when: string },
): Draws | undefined {
  const { seed, replicates = 2000 } = options;
  if (clusters !== undefined) {
    const given = (["seed", "replicates"] as const).find((name) => options[name] !== undefined);
    if (given === undefined) return undefined;
    throw new InputError(
      `${caller} requires clusters without ${given}, got ${options[given]}; leave it out: the jackknife over sites draws nothing`,
    );
  }
  if (seed === undefined || !Number.isSafeInteger(seed)) {
    throw new InputError(`${caller} requires a whole seed ${when}, got ${seed}`);
  }
  requireWhole(caller, "replicates", replicates, 2);
  return { replicates, seed };
}
