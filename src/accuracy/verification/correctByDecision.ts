import { requireLevel } from "../../inference/index.js";
import { takeClusters, takeRows, type UndecidablePolicy } from "../../rows/index.js";
import { clusteredAccuracy } from "../clusteredAccuracy.js";
import { requireCount } from "../requireTable.js";
import { correctCells } from "./correctCells.js";
import type { CorrectedAccuracy } from "./correctedAccuracy.js";
import type { DecisionColumns } from "./decisionRows.js";
import { sortedCells } from "./verificationCells.js";

/**
 * Accuracy of a rule in all screened children, when only some were examined and this depended on what
 * the programme had decided, and not on the rule. Children are sorted by `verificationCells`; the
 * sum goes over both decisions. Where they are the same it is Begg and Greenes 1983.
 *
 * The interval is made of the percentiles of seeded draws of sizes and rates. Fewer than 3 missed
 * cases drawn: sensitivity has an interval and no point; up to 9 the bias of the ratio is in the
 * notes. A group without an exam leaves no point either, unless it is at most 5 % of its decision.
 * Bounds keep every examined child, and no estimate contradicts them. Coverage by simulation is in
 * the room's README. Attendance that depends on the condition is not cured: see `tippingPoint`.
 *
 * With `clusters: { subject, site }` in place of `subjects` the limits lie farther out, in log odds from the mean
 * of the draws: by the root of the delete-one-site jackknife variance over that of independent children
 * (never below 1), and by Student's t on the effective number of sites less 1 over the normal quantile.
 *
 * Rates are proportions, 0 to 1.
 *
 * @param columns as `verificationCells` takes them
 * @param options `level` 0.95, `seed` 1 and `draws` 10000 by default; `refused` is a reason for which
 * nothing can be corrected, so that only the bounds and the known counts are given
 * @throws InputError when columns do not fit, or an option is wrong
 *
 * @example
 * correctByDecision({ recorded: ["refer", "pass", "pass"], test: [1, 0, 0], reference: [1, 0, null], reason: ["referred", "sampled", "not-examined"] }).specificity.value // => 1
 */
export function correctByDecision(
  columns: DecisionColumns,
  options: {
    readonly undecidable?: UndecidablePolicy;
    readonly level?: number;
    readonly seed?: number;
    readonly replicates?: number;
    readonly refused?: string;
  } = {},
): CorrectedAccuracy {
  const caller = "correctByDecision";
  const { level = 0.95, seed = 1, replicates = 10000, undecidable, refused } = options;
  requireLevel(caller, level);
  requireCount(caller, "replicates", replicates);
  const { sorted, bySite } = sortedCells(caller, columns, { undecidable });
  const corrected = correctCells(sorted, { level, seed, replicates, bySite }, refused);
  return bySite === undefined
    ? corrected
    : { ...corrected, naive: naiveOverSites(columns, { level, undecidable }) };
}

/** Rates of the examined as they came, with intervals that respect sites. */
function naiveOverSites(
  columns: DecisionColumns,
  options: { readonly level: number; readonly undecidable?: UndecidablePolicy },
): CorrectedAccuracy["naive"] {
  const examined = Array.from(columns.reason).flatMap((why, row) =>
    why === "not-examined" ? [] : [row],
  );
  const { sensitivity, specificity } = clusteredAccuracy(
    {
      test: takeRows(columns.test, examined),
      reference: takeRows(columns.reference as ArrayLike<boolean | number | string>, examined),
      ...takeClusters(columns, examined),
    },
    options,
  );
  return { sensitivity, specificity };
}
