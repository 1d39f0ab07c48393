import { fQuantile, requireLevel } from "../inference/index.js";
import { type Estimate, InputError, type Undefined, undefinedBecause } from "../results/index.js";
import { requireNumbers } from "../rows/index.js";

/** The six forms of Shrout and Fleiss 1979. */
export type IntraclassForm =
  | "ICC(1,1)"
  | "ICC(2,1)"
  | "ICC(3,1)"
  | "ICC(1,k)"
  | "ICC(2,k)"
  | "ICC(3,k)";

/** Reliability of ratings as an intraclass correlation of one form. */
export interface IntraclassCorrelation {
  readonly kind: "intraclass-correlation";
  readonly form: IntraclassForm;
  /** Rows of the matrix: targets (eyes). */
  readonly n: number;
  /** Columns: readings of each target. */
  readonly k: number;
  readonly level: number;
  readonly estimate: Estimate | Undefined;
  readonly meanSquares: {
    readonly between: number;
    readonly within: number;
    readonly columns: number;
    readonly residual: number;
  };
}

/**
 * Intraclass correlation in one of the six forms of Shrout and Fleiss 1979, which a report has to
 * name. (1, .) each target has its own readings; (2, .) columns are a sample of instruments or
 * observers and their bias counts; (3, .) these columns only, bias left out; (., k) the mean of k.
 *
 * Rows are targets and have to be independent: one eye a child. Intervals by F, for (2, .) with
 * Satterthwaite degrees of freedom (Shrout and Fleiss). Undefined when the targets do not vary, and
 * where that approximation gives no interval about the estimate (few targets, much residual).
 *
 * @param matrix one row a subject, one column a measurement
 * @throws when the matrix has fewer than 2 rows or columns, is ragged, or holds a value not finite
 *
 * @example
 * intraclassCorrelation([[9, 2, 5, 8], [6, 1, 3, 2], [8, 4, 6, 8], [7, 1, 2, 6], [10, 5, 6, 9], [6, 2, 4, 7]], { form: "ICC(2,1)" }).estimate.value // => 0.29
 */
export function intraclassCorrelation(
  matrix: readonly ArrayLike<number>[],
  options: { readonly form: IntraclassForm; readonly level?: number },
): IntraclassCorrelation {
  const level = requireLevel("intraclassCorrelation", options.level ?? 0.95);
  const [n, k] = requireMatrix(matrix);
  const form = requireForm(options.form);
  const meanSquares = analysisOfVariance(matrix, n, k);
  return {
    kind: "intraclass-correlation",
    form,
    n,
    k,
    level,
    estimate: estimateOf(form, meanSquares, n, k, level),
    meanSquares,
  };
}

type MeanSquares = IntraclassCorrelation["meanSquares"];

function estimateOf(
  form: IntraclassForm,
  { between, within, columns, residual }: MeanSquares,
  n: number,
  k: number,
  level: number,
): Estimate | Undefined {
  if (!(between > 0)) return undefinedBecause("the targets' means do not vary");
  const upper = (1 + level) / 2;
  const single = { value: 0, low: 0, high: 0 };
  if (form[4] === "2") {
    const bias = (k * (columns - residual)) / n;
    single.value = (between - residual) / (between + (k - 1) * residual + bias);
    // With no residual at all and no column bias agreement is perfect and F has no second df.
    if (!(residual > 0) && !(columns > 0)) {
      single.low = 1;
      single.high = 1;
    } else {
      const a = (k * single.value) / (n * (1 - single.value));
      const b = 1 + (k * single.value * (n - 1)) / (n * (1 - single.value));
      const df =
        (a * columns + b * residual) ** 2 /
        ((a * columns) ** 2 / (k - 1) + (b * residual) ** 2 / ((n - 1) * (k - 1)));
      const f1 = fQuantile(upper, n - 1, df);
      const f2 = fQuantile(upper, df, n - 1);
      const columnsAndRest = k * columns + (k * n - k - n) * residual;
      single.low = (n * (between - f1 * residual)) / (f1 * columnsAndRest + n * between);
      single.high = (n * (f2 * between - residual)) / (columnsAndRest + n * f2 * between);
    }
  } else {
    const [error, df] = form[4] === "1" ? [within, n * (k - 1)] : [residual, (n - 1) * (k - 1)];
    const ofRatio = (f: number) => (f === Number.POSITIVE_INFINITY ? 1 : (f - 1) / (f + k - 1));
    const f = between / error;
    single.value = ofRatio(f);
    single.low = ofRatio(f / fQuantile(upper, n - 1, df));
    single.high = ofRatio(f * fQuantile(upper, df, n - 1));
  }
  // The mean of k readings: Spearman-Brown on the point and on both limits.
  const step = (r: number) => (form[6] === "k" ? (k * r) / (1 + (k - 1) * r) : r);
  const [value, low, high] = [single.value, single.low, single.high].map(step);
  // Few degrees of freedom: the quantile overflows, or a limit passes -1 / (k - 1), the least
  // correlation there is, where Spearman-Brown changes sign.
  if (!(low <= value + 1e-9 && value <= high + 1e-9)) {
    return undefinedBecause("its interval does not enclose it: too few targets, too much residual");
  }
  return {
    kind: "estimate",
    value,
    low,
    high,
    level,
    method: form[4] === "2" ? "f-satterthwaite" : "f",
  };
}

function analysisOfVariance(
  matrix: readonly ArrayLike<number>[],
  n: number,
  k: number,
): MeanSquares {
  const rows = matrix.map((row) => Array.from(row));
  const rowMeans = rows.map((row) => row.reduce((sum, value) => sum + value, 0) / k);
  const grand = rowMeans.reduce((sum, value) => sum + value, 0) / n;
  const columnMeans = rows[0].map((_, j) => rows.reduce((sum, row) => sum + row[j], 0) / n);
  const squared = (values: readonly number[], about: number) =>
    values.reduce((sum, value) => sum + (value - about) ** 2, 0);
  const betweenSquares = k * squared(rowMeans, grand);
  const withinSquares = rows.reduce((sum, row, i) => sum + squared(row, rowMeans[i]), 0);
  const columnSquares = n * squared(columnMeans, grand);
  let residualSquares = 0;
  rows.forEach((row, i) => {
    row.forEach((value, j) => {
      residualSquares += (value - rowMeans[i] - columnMeans[j] + grand) ** 2;
    });
  });
  return {
    between: betweenSquares / (n - 1),
    within: withinSquares / (n * (k - 1)),
    columns: columnSquares / (k - 1),
    residual: residualSquares / ((n - 1) * (k - 1)),
  };
}

function requireMatrix(matrix: readonly ArrayLike<number>[]): [number, number] {
  const caller = "intraclassCorrelation";
  const k = matrix[0]?.length ?? 0;
  if (matrix.length < 2 || k < 2) {
    throw new InputError(
      `${caller} requires at least 2 rows and columns, got ${matrix.length} x ${k}`,
    );
  }
  for (const [row, values] of matrix.entries()) {
    requireNumbers(caller, `list ${row}`, values, k);
  }
  return [matrix.length, k];
}

function requireForm(form: IntraclassForm): IntraclassForm {
  if (!/^ICC\([123],[1k]\)$/.test(form)) {
    throw new InputError(
      `intraclassCorrelation requires a form from "ICC(1,1)" to "ICC(3,k)", got ${form}`,
    );
  }
  return form;
}
