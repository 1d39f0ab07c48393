import { effectiveSize, requireLevel } from "../inference/index.js";
import {
  type Estimate,
  formerNames,
  InputError,
  type TwoByTwo,
  type Undefined,
} from "../results/index.js";
import {
  type ClusterColumns,
  type Clusters,
  type ConditionColumn,
  childrenOf,
  conditionCodes,
  hasChildren,
  requireSameLength,
  sitesOf,
  type TestColumn,
  type UndecidablePolicy,
} from "../rows/index.js";
import { type AccuracyOptions, accuracyFromCounts } from "./accuracyFromCounts.js";
import type { AccuracyMeasures } from "./accuracyMeasures.js";
import { type ChildTotals, childTotals } from "./childTotals.js";
import { clusteredMeasures } from "./clusteredMeasures.js";
import { designMeasures, type StatedDesign } from "./designMeasures.js";
import { linearShare, rowShares } from "./linearised.js";
import { siteMeasures } from "./siteMeasures.js";
import { decidedCodes } from "./undecidable.js";

/** The ten measures of rows that cluster in children. */
export interface ClusteredAccuracy extends AccuracyMeasures, StatedDesign {
  readonly kind: "clustered-accuracy";
  readonly table: TwoByTwo;
  /** Rows counted. */
  readonly n: number;
  /** Children behind them. */
  readonly subjects: number;
  /** Sites above them, where `clusters` were given. */
  readonly sites?: number;
  readonly level: number;
  /** "linearised", "wilson" when no child has more than one row, "site-jackknife" with sites. */
  readonly method: string;
  /** Variance against that of independent rows; null where it cannot be estimated. */
  readonly designEffect: {
    readonly sensitivity: number | null;
    readonly specificity: number | null;
  };
}

/** Rows of a test and a condition, and whose they are: `subjects`, or `clusters` with sites above. */
export interface ClusteredRows extends ClusterColumns {
  readonly test: TestColumn;
  readonly reference: ConditionColumn;
}

/** `interval` and `ratioInterval` are those of independent rows: refused where a child has several. */
export interface ClusteredAccuracyOptions extends AccuracyOptions {
  /** How undecidable rows count; required when there are any. */
  readonly undecidable?: UndecidablePolicy;
}

/**
 * Accuracy from rows of which several may belong to one child, such as two eyes: the point values
 * are those of the pooled table, the intervals follow the variance between children (ratio
 * estimator, Rao and Scott 1992; functions of sensitivity and specificity linearised on the four
 * totals of each child). When no child has more than one row, the plain intervals of
 * `accuracyFromCounts` are given, by `interval` and `ratioInterval`. A rate of exactly 0 or 1: Wilson on the number of children.
 *
 * With `clusters: { subject, site }` in place of `subjects` every interval is a delete-one-site
 * jackknife: children of one school who share what moves their readings are fewer than they look.
 *
 * Rates are proportions, 0 to 1.
 *
 * @throws when lengths differ, a subject is missing, a value is neither yes nor no, rows are
 * undecidable and no policy is given, or a method of independent rows is asked for where subjects repeat
 *
 * @example
 * clusteredAccuracy({ test: [1, 1, 0, 0, 1, 0], reference: [1, 1, 1, 1, 0, 0], subjects: ["a", "a", "b", "b", "c", "d"] }).sensitivity.low // => 0.0546
 */
export function clusteredAccuracy(
  columns: ClusteredRows,
  options: ClusteredAccuracyOptions = {},
): ClusteredAccuracy {
  const caller = "clusteredAccuracy";
  options = formerNames(caller, options, "interval", "ratio");
  const { level = 0.95 } = options;
  requireLevel(caller, level);
  const { ofChildren: totals, ofSites } = clusterTotals(caller, columns, options.undecidable);
  const { table, children } = totals;
  if (options.verification === "none" && table.falseNegative + table.trueNegative > 0) {
    throw new InputError(`${caller} requires no examined negatives when verification is "none"`);
  }
  const n = totals.total.reduce((sum, count) => sum + count, 0);
  if (!totals.repeated && ofSites === null) {
    const plain = accuracyFromCounts(table, { ...options, level });
    const designEffect = { sensitivity: null, specificity: null };
    return { ...plain, kind: "clustered-accuracy", subjects: children, designEffect };
  }
  requireClusteredMethod(caller, options, ofSites === null ? "subjects that repeat" : "sites");
  const measures =
    ofSites === null ? clusteredMeasures(totals, level) : siteMeasures(ofSites, level);
  const stated = designMeasures(caller, measures, { ...options, level }, (prevalence) => ({
    positivePredictiveValue: valueAt(
      measures.positiveLikelihoodRatio,
      prevalence / (1 - prevalence),
      "positive",
      level,
    ),
    negativePredictiveValue: valueAt(
      measures.negativeLikelihoodRatio,
      prevalence / (1 - prevalence),
      "negative",
      level,
    ),
  }));
  return {
    kind: "clustered-accuracy",
    table,
    n,
    subjects: children,
    ...(ofSites === null ? {} : { sites: ofSites.children }),
    level,
    method: ofSites === null ? "linearised" : "site-jackknife",
    designEffect: {
      sensitivity: designEffect(totals, "sensitivity", measures.sensitivity, ofSites !== null),
      specificity: designEffect(totals, "specificity", measures.specificity, ofSites !== null),
    },
    ...stated,
  };
}

/** Repeated rows have one method, so no other may be asked for. */
function requireClusteredMethod(
  caller: string,
  { interval = "wilson", ratioInterval }: ClusteredAccuracyOptions,
  got: string,
): void {
  if (interval === "wilson" && ratioInterval === undefined) return;
  const asked =
    interval === "wilson" ? `ratioInterval "${ratioInterval}"` : `interval "${interval}"`;
  throw new InputError(
    `${caller} requires rows of different children for ${asked}, got ${got}; leave the option out, or take one row a child`,
  );
}

/** Counts of each child, and of each site where there are any, under an undecidable policy. */
export function clusterTotals(
  caller: string,
  columns: ClusteredRows,
  undecidable: UndecidablePolicy | undefined,
): { readonly ofChildren: ChildTotals; readonly ofSites: ChildTotals | null } {
  const { test: testColumn, reference: referenceColumn } = columns;
  const n = requireSameLength(caller, { test: testColumn, reference: referenceColumn });
  if (!hasChildren(columns)) {
    throw new InputError(`${caller} requires a column subjects, or clusters, got neither`);
  }
  const test = decidedCodes(caller, "test", testColumn, undecidable);
  const reference = conditionCodes(caller, "reference", referenceColumn);
  const children = childrenOf(caller, columns, n);
  const sites = sitesOf(caller, columns, children);
  const totalsOf = (clusters: Clusters) =>
    childTotals(clusters, (row) => {
      if (test[row] === 2) return -1;
      return reference[row] === 1 ? 2 - 2 * test[row] : 3 - 2 * test[row];
    });
  return { ofChildren: totalsOf(children), ofSites: sites ? totalsOf(sites) : null };
}

/** Variance of a rate against that of independent rows. */
function designEffect(
  totals: ChildTotals,
  name: "sensitivity" | "specificity",
  rate: Estimate | Undefined,
  bySite: boolean,
): number | null {
  const share = linearShare(totals, rowShares[name]);
  if (share.trials === 0 || share.clusters < 2) return null;
  const p = share.successes / share.trials;
  if (p === 0 || p === 1) return null;
  if (!bySite) return share.trials / effectiveSize(share);
  if (rate.kind === "undefined" || rate.se === undefined) return null;
  return (rate.se ** 2 * share.trials) / (p * (1 - p));
}

/** A predictive value from a likelihood ratio at the prior odds of the condition. */
function valueAt(
  ratio: Estimate | Undefined,
  odds: number,
  side: "positive" | "negative",
  level: number,
): Estimate | Undefined {
  const after = (r: number) =>
    side === "positive" ? (r * odds) / (1 + r * odds) : 1 / (1 + r * odds);
  if (ratio.kind === "undefined" && ratio.low === undefined) return ratio;
  const infinite = side === "positive" ? 1 : 0;
  const value = ratio.kind === "estimate" ? after(ratio.value) : infinite;
  const first = after(ratio.low ?? 0);
  const second = ratio.kind === "estimate" ? after(ratio.high) : infinite;
  return {
    kind: "estimate",
    value,
    low: Math.min(first, second),
    high: Math.max(first, second),
    level,
    method: ratio.kind === "estimate" ? ratio.method : "score-on-effective-size",
  };
}
