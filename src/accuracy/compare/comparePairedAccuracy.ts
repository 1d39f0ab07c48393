import { clusteredShare, requireLevel } from "../../inference/index.js";
import { formerNames } from "../../results/index.js";
import {
  type ConditionColumn,
  clustersOf,
  conditionCodes,
  requireSameLength,
  type SubjectColumn,
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
import { type PairedPredictive, pairedPredictive } from "./pairedPredictive.js";

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
 * p-values stay only for comparison. Predictive values: linearised on child totals.
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
  columns: {
    readonly first: TestColumn;
    readonly second: TestColumn;
    readonly reference: ConditionColumn;
    readonly subjects?: SubjectColumn;
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
  const { first, second, subjects } = columns;
  requireSameLength(caller, {
    first,
    second,
    reference: columns.reference,
    ...(subjects && { subjects }),
  });
  const a = decidedCodes(caller, "first", first, options.undecidable);
  const b = decidedCodes(caller, "second", second, options.undecidable);
  const reference = conditionCodes(caller, "reference", columns.reference);
  const kept: number[] = [];
  for (let row = 0; row < a.length; row++) if (a[row] < 2 && b[row] < 2) kept.push(row);
  const clusters = clustersOf(caller, subjects, a.length);
  const child = Int32Array.from(kept, (row) => clusters.ofRow[row]);
  const children = clusters.count;
  const pick = (codes: Uint8Array) => Uint8Array.from(kept, (row) => codes[row]);
  const rows = { a: pick(a), b: pick(b), reference: pick(reference), child, children };
  const without = rows.reference.map((code) => 1 - code);
  const flip = (codes: Uint8Array) => codes.map((code) => 1 - code);
  const rates = (condition: 0 | 1) => pairedRates(rows, condition, level, interval);
  return {
    kind: "paired-accuracy",
    n: kept.length,
    subjects: subjects ? new Set(child).size : null,
    level,
    excluded: a.length - kept.length,
    sensitivity: rates(1),
    specificity: rates(0),
    positivePredictiveValue: pairedPredictive(
      { first: rows.a, second: rows.b, right: rows.reference, child, children },
      level,
    ),
    negativePredictiveValue: pairedPredictive(
      { first: flip(rows.a), second: flip(rows.b), right: without, child, children },
      level,
    ),
  };
}

/** Rows of one side of the condition; a rule is right when its result equals the condition. */
function pairedRates(
  rows: {
    readonly a: Uint8Array;
    readonly b: Uint8Array;
    readonly reference: Uint8Array;
    readonly child: Int32Array;
    readonly children: number;
  },
  condition: 0 | 1,
  level: number,
  interval: PairedMethod,
): PairedRates {
  const size = new Int32Array(rows.children);
  const excess = new Int32Array(rows.children);
  const right = [new Int32Array(rows.children), new Int32Array(rows.children)];
  const cells = [0, 0, 0, 0];
  for (let row = 0; row < rows.a.length; row++) {
    if (rows.reference[row] !== condition) continue;
    const first = Number(rows.a[row] === condition);
    const second = Number(rows.b[row] === condition);
    size[rows.child[row]]++;
    excess[rows.child[row]] += first - second;
    right[0][rows.child[row]] += first;
    right[1][rows.child[row]] += second;
    cells[2 * first + second]++;
  }
  const [neither, secondOnly, firstOnly, both] = cells;
  const plain = comparePairedProportions(
    { both, firstOnly, secondOnly, neither },
    { level, interval },
  );
  if (!size.some((n) => n > 1)) return { ...plain, clustered: null };
  const clustered = clusteredPaired(size, excess, plain.counts, level);
  return {
    ...plain,
    first: clusteredShare({ successes: right[0], rows: size }, level),
    second: clusteredShare({ successes: right[1], rows: size }, level),
    difference: clustered.difference,
    clustered,
  };
}
