import { clusteredShare, jackknifeSums, requireLevel, siteShare } from "../../inference/index.js";
import { formerNames } from "../../results/index.js";
import {
  type ClusterColumns,
  type ConditionColumn,
  childrenOf,
  conditionCodes,
  hasChildren,
  requireSameLength,
  sitesOf,
  type TestColumn,
  type UndecidablePolicy,
} from "../../rows/index.js";
import { decidedCodes } from "../undecidable.js";
import { type ClusteredPaired, clusteredPaired } from "./clusteredPaired.js";
import {
  comparePairedProportions,
  type PairedMethod,
  type PairedProportions,
} from "./comparePairedProportions.js";
import { type PairedPredictive, pairedPredictive, sitePredictive } from "./pairedPredictive.js";

/** A paired comparison; `clustered` is null where no child has more than one row. */
export interface PairedRates extends PairedProportions {
  readonly clustered: ClusteredPaired | null;
}

/** Two rules on the same rows; every difference is the first minus the second. */
export interface PairedAccuracy {
  readonly kind: "paired-accuracy";
  /** Rows compared. */
  readonly n: number;
  /** Children behind them; null without subjects, and rows are then taken as independent. */
  readonly subjects: number | null;
  /** Sites above them, where `clusters` were given; tests and intervals are then over sites. */
  readonly sites?: number;
  readonly level: number;
  /** Rows left out because a rule was undecidable under "exclude". */
  readonly excluded: number;
  readonly sensitivity: PairedRates;
  readonly specificity: PairedRates;
  readonly positivePredictiveValue: PairedPredictive;
  readonly negativePredictiveValue: PairedPredictive;
}

/**
 * Compares two rules on the same rows: sensitivity among rows with the condition, specificity among
 * those without, and the predictive values. Differences are the first minus the second.
 *
 * Without `subjects` rows are taken as independent: McNemar's tests and the interval of Newcombe
 * 1998 (method 10). With subjects that repeat, the interval and the tests are those for clusters
 * (Obuchowski 1998; Durkalski 2003), the difference of each comparison and the two rates have their
 * intervals from the variance between children (the rates as in `clusteredAccuracy`), and McNemar's
 * p-values stay only for comparison. Predictive values: linearised on child totals. With `clusters:
 * { subject, site }` rates and differences are jackknifed over sites; the tests stay by child, and
 * are too eager where sites differ.
 *
 * Rates are proportions, 0 to 1.
 *
 * @throws when lengths differ, a value is neither yes nor no, or rows are undecidable and no policy
 * is given
 *
 * @example
 * comparePairedAccuracy({ first: [1, 1, 0, 1], second: [1, 0, 0, 0], reference: [1, 1, 1, 0] }).sensitivity.difference.value // => 0.3333
 */
export function comparePairedAccuracy(
  columns: ClusterColumns & {
    readonly first: TestColumn;
    readonly second: TestColumn;
    readonly reference: ConditionColumn;
  },
  options: {
    readonly level?: number;
    readonly interval?: PairedMethod;
    readonly undecidable?: UndecidablePolicy;
  } = {},
): PairedAccuracy {
  const caller = "comparePairedAccuracy";
  columns = formerNames(caller, columns, "tests");
  options = formerNames(caller, options, "interval");
  const { level = 0.95, interval = "newcombe" } = options;
  requireLevel(caller, level);
  const { first, second } = columns;
  requireSameLength(caller, { first, second, reference: columns.reference });
  const a = decidedCodes(caller, "first", first, options.undecidable);
  const b = decidedCodes(caller, "second", second, options.undecidable);
  const reference = conditionCodes(caller, "reference", columns.reference);
  const kept: number[] = [];
  for (let row = 0; row < a.length; row++) if (a[row] < 2 && b[row] < 2) kept.push(row);
  const clusters = childrenOf(caller, columns, a.length);
  const sites = sitesOf(caller, columns, clusters);
  const child = Int32Array.from(kept, (row) => clusters.ofRow[row]);
  const children = clusters.count;
  const pick = (codes: Uint8Array) => Uint8Array.from(kept, (row) => codes[row]);
  const above = sites && {
    count: sites.count,
    ofRow: Int32Array.from(kept, (row) => sites.ofRow[row]),
  };
  const rows = { a: pick(a), b: pick(b), reference: pick(reference), child, children, above };
  const without = rows.reference.map((code) => 1 - code);
  const flip = (codes: Uint8Array) => codes.map((code) => 1 - code);
  const rates = (condition: 0 | 1) => pairedRates(rows, condition, level, interval);
  return {
    kind: "paired-accuracy",
    n: kept.length,
    subjects: hasChildren(columns) ? new Set(child).size : null,
    ...(sites && { sites: sites.count }),
    level,
    excluded: a.length - kept.length,
    sensitivity: rates(1),
    specificity: rates(0),
    positivePredictiveValue: predictive(rows.a, rows.b, rows.reference),
    negativePredictiveValue: predictive(flip(rows.a), flip(rows.b), without),
  };

  function predictive(one: Uint8Array, other: Uint8Array, right: Uint8Array): PairedPredictive {
    const chosen = { first: one, second: other, right };
    return above
      ? sitePredictive({ ...chosen, site: above.ofRow, sites: above.count }, level)
      : pairedPredictive({ ...chosen, child, children }, level);
  }
}

interface Grouped {
  readonly count: number;
  readonly ofRow: Int32Array;
}

/** Rows of one side of the condition; a rule is right when its result equals the condition. */
function pairedRates(
  rows: {
    readonly a: Uint8Array;
    readonly b: Uint8Array;
    readonly reference: Uint8Array;
    readonly child: Int32Array;
    readonly children: number;
    readonly above: Grouped | undefined;
  },
  condition: 0 | 1,
  level: number,
  interval: PairedMethod,
): PairedRates {
  const ofChildren = rightByCluster(rows, condition, { count: rows.children, ofRow: rows.child });
  const [neither, secondOnly, firstOnly, both] = ofChildren.cells;
  const plain = comparePairedProportions(
    { both, firstOnly, secondOnly, neither },
    { level, interval },
  );
  const repeated = ofChildren.size.some((n) => n > 1);
  const clustered = repeated
    ? clusteredPaired(ofChildren.size, ofChildren.excess, plain.counts, level)
    : null;
  if (rows.above) {
    const { size, right } = rightByCluster(rows, condition, rows.above);
    return {
      ...plain,
      first: siteShare({ successes: right[0], rows: size }, level),
      second: siteShare({ successes: right[1], rows: size }, level),
      difference: jackknifeSums(
        Array.from(size, (n, site) => [n, right[0][site], right[1][site]]),
        ([n, first, second]) => (n === 0 ? null : (first - second) / n),
        { denominator: ([n]) => n, scale: "plain", level },
      ),
      clustered,
    };
  }
  if (clustered === null) return { ...plain, clustered };
  const { size, right } = ofChildren;
  return {
    ...plain,
    first: clusteredShare({ successes: right[0], rows: size }, level),
    second: clusteredShare({ successes: right[1], rows: size }, level),
    difference: clustered.difference,
    clustered,
  };
}

/** Rows of one side of the condition by child or site: how many, and how many each rule has right. */
function rightByCluster(
  rows: { readonly a: Uint8Array; readonly b: Uint8Array; readonly reference: Uint8Array },
  condition: 0 | 1,
  clusters: Grouped,
) {
  const size = new Int32Array(clusters.count);
  const excess = new Int32Array(clusters.count);
  const right = [new Int32Array(clusters.count), new Int32Array(clusters.count)] as const;
  const cells = [0, 0, 0, 0];
  for (let row = 0; row < rows.a.length; row++) {
    if (rows.reference[row] !== condition) continue;
    const first = Number(rows.a[row] === condition);
    const second = Number(rows.b[row] === condition);
    const cluster = clusters.ofRow[row];
    size[cluster]++;
    excess[cluster] += first - second;
    right[0][cluster] += first;
    right[1][cluster] += second;
    cells[2 * first + second]++;
  }
  return { size, excess, right, cells };
}
