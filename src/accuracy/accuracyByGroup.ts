import { effectiveSize, type Homogeneity, homogeneity, requireLevel } from "../inference/index.js";
import { formerNames, type Undefined, undefinedBecause } from "../results/index.js";
import {
  type ClusterColumns,
  type ConditionColumn,
  childrenOf,
  groupRows,
  requireSameLength,
  sitesOf,
  type TestColumn,
  takeClusters,
  takeColumns,
  type UndecidablePolicy,
} from "../rows/index.js";
import type { Accuracy } from "./accuracyFromCounts.js";
import { accuracyOfRows } from "./accuracyOfRows.js";
import { type ClusteredAccuracy, clusterTotals } from "./clusteredAccuracy.js";
import type { AccuracyDesign } from "./designMeasures.js";
import { linearShare, rowShares } from "./linearised.js";

export interface GroupAccuracy {
  readonly group: string;
  readonly accuracy: Accuracy | ClusteredAccuracy;
}

/** Accuracy group by group, in order of first appearance. */
export interface AccuracyByGroup {
  readonly kind: "accuracy-by-group";
  readonly n: number;
  readonly level: number;
  readonly groups: readonly GroupAccuracy[];
  /** Whether the groups share one sensitivity, and one specificity. */
  readonly homogeneity: {
    readonly sensitivity: Homogeneity | Undefined;
    readonly specificity: Homogeneity | Undefined;
  };
}

/**
 * Accuracy in each group (age band, site, instrument), with a test that sensitivity, and that
 * specificity, is the same in all: Pearson's chi-square, or with subjects that repeat the test of
 * Rao and Scott 1992 on effective sample sizes. Groups are taken as independent: a child belongs to
 * one group. Without `subjects`, rows are taken as independent. With `clusters` the rates of a group
 * are jackknifed over its sites, and there is no test: no test of equal rates is known to hold where
 * groups share sites.
 *
 * Rates are proportions, 0 to 1.
 *
 * @throws as `accuracyFromCounts` and `clusteredAccuracy` do
 *
 * @example
 * accuracyByGroup({ test: [1, 0, 1, 1], reference: [1, 1, 1, 1], by: ["a", "a", "b", "b"] }).homogeneity.sensitivity.chiSquare // => 1.3333
 */
export function accuracyByGroup(
  columns: ClusterColumns & {
    readonly test: TestColumn;
    readonly reference: ConditionColumn;
    readonly by: ArrayLike<string | number>;
  },
  options: AccuracyDesign & {
    readonly level?: number;
    readonly undecidable?: UndecidablePolicy;
  } = {},
): AccuracyByGroup {
  const caller = "accuracyByGroup";
  columns = formerNames(caller, columns, "byGroup");
  const { level = 0.95 } = options;
  requireLevel(caller, level);
  const { test, reference, by: groups } = columns;
  const n = requireSameLength(caller, { test, reference, groups });
  const children = childrenOf(caller, columns, n);
  const { repeated } = children;
  const sites = sitesOf(caller, columns, children);
  const parts = groupRows(caller, groups, n).map(({ label, rows }) => ({
    group: label,
    ...takeColumns({ test, reference }, rows),
    ...takeClusters(columns, rows),
  }));
  const made = parts.map(({ group, ...part }) => ({
    group,
    accuracy: accuracyOfRows(part, options),
  }));
  const shared = (name: "sensitivity" | "specificity") => {
    if (sites) {
      return undefinedBecause(noTestOverSites);
    }
    return homogeneity(
      parts.map((part, i) => {
        if (repeated) {
          const { ofChildren } = clusterTotals(caller, part, options.undecidable);
          const share = linearShare(ofChildren, rowShares[name]);
          return sized(share.successes, share.trials, share.trials && effectiveSize(share));
        }
        const { table } = made[i].accuracy;
        return name === "sensitivity"
          ? sized(table.truePositive, table.truePositive + table.falseNegative)
          : sized(table.trueNegative, table.trueNegative + table.falsePositive);
      }),
      repeated ? "rao-scott" : "pearson",
    );
  };
  return {
    kind: "accuracy-by-group",
    n,
    level,
    groups: made,
    homogeneity: { sensitivity: shared("sensitivity"), specificity: shared("specificity") },
  };
}

/** Why groups that share sites are not tested. */
export const noTestOverSites =
  "sites above children: no test of equal rates is known to hold where groups share sites";

/** A group's share on the size it is worth. */
function sized(successes: number, trials: number, size = trials) {
  const value = trials === 0 ? 0 : successes / trials;
  return { successes: value * size, size, value };
}
