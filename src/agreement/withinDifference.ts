import { requireLevel } from "../inference/index.js";
import { type Estimate, InputError, type Undefined } from "../results/index.js";
import { childrenOf, meets, requirePairs } from "../rows/index.js";
import type { PairedMeasurements } from "./limits/pairedMeasurements.js";
import { shareOfRows } from "./shareOfRows.js";

/** Shares of rows whose difference is within each stated number of dioptres. */
export interface DifferenceShares {
  readonly kind: "difference-shares";
  readonly n: number;
  readonly subjects: number;
  readonly level: number;
  /** For each acceptable difference the share of rows with |test - reference| <= it. */
  readonly shares: readonly {
    readonly acceptable: number;
    readonly within: Estimate | Undefined;
  }[];
}

/**
 * Share of differences that are acceptable: |test - reference| at most each stated difference
 * (0.25, 0.50 and 1.00 D unless stated; state them before seeing the data).
 *
 * Wilson's interval; with repeated `subjects` on the effective number of rows (Rao and Scott 1992);
 * with `clusters` a jackknife over sites on the logit scale. Rows of one child alone: undefined,
 * unless all or none of them lie within.
 * Differences are compared in whole thousandths (`toThousandths`).
 *
 * @throws when the columns differ in length, hold a value that is not finite, or a difference is
 * not positive
 *
 * @example
 * withinDifference({ test: [1, 2, 3], reference: [1, 2.5, 5] }).shares[1].within.value // => 0.6667
 */
export function withinDifference(
  data: PairedMeasurements,
  options: { readonly acceptable?: readonly number[]; readonly level?: number } = {},
): DifferenceShares {
  const caller = "withinDifference";
  const { test, reference } = data;
  const { acceptable = [0.25, 0.5, 1] } = options;
  const level = requireLevel(caller, options.level ?? 0.95);
  const n = requirePairs(caller, { test, reference }, 2);
  const clusters = childrenOf(caller, data, n);
  const share = shareOfRows(caller, data, n, level);
  const shares = acceptable.map((difference) => {
    if (!(difference > 0)) {
      throw new InputError(`${caller} requires positive differences, got ${difference}`);
    }
    const within = share((row) =>
      meets(Math.abs(test[row] - reference[row]), { relation: "<=", limit: difference }),
    );
    return { acceptable: difference, within };
  });
  return { kind: "difference-shares", n, subjects: clusters.count, level, shares };
}
