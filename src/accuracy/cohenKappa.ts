import { requireLevel, symmetricEstimate } from "../inference/index.js";
import { type Estimate, InputError, type Undefined, undefinedBecause } from "../results/index.js";
import { requireCount } from "./requireTable.js";

/** "linear" and "quadratic" weigh a disagreement by its distance in grades, or by its square. */
export type KappaWeights = "none" | "linear" | "quadratic" | readonly (readonly number[])[];

/** Agreement beyond chance of two ratings of the same rows. */
export interface CohenKappa {
  readonly kind: "cohen-kappa";
  readonly n: number;
  readonly categories: number;
  readonly level: number;
  readonly weights: "none" | "linear" | "quadratic" | "given";
  /** Share of (weighted) agreement, and that expected from the margins; null when there are no rows. */
  readonly observed: number | null;
  readonly expected: number | null;
  readonly kappa: Estimate | Undefined;
}

/**
 * Cohen's kappa: agreement beyond that of the margins, 1 at full agreement (Cohen 1960, 1968), with
 * the large-sample variance of Fleiss, Cohen and Everitt 1969 and a symmetric interval, cut at 1 (not
 * below: kappa's least value hangs on the margins); it has no width at full agreement. Kappa depends
 * on prevalence: compare kappas only between samples with like margins. Independent rows.
 *
 * @param table counts, one row a category of one rater and one column a category of the other,
 * categories in one order
 * @param options `weights` "none" by default; a matrix gives disagreement weights, 0 on its diagonal
 * @throws when the table is not square with at least 2 categories, a count is invalid, or weights do
 * not fit
 *
 * @example
 * cohenKappa([[88, 14, 18], [10, 40, 10], [2, 6, 12]]).kappa.value // => 0.4915
 */
export function cohenKappa(
  table: readonly (readonly number[])[],
  options: { readonly weights?: KappaWeights; readonly level?: number } = {},
): CohenKappa {
  const { weights = "none", level = 0.95 } = options;
  requireLevel(caller, level);
  const k = table.length;
  if (k < 2 || table.some((row) => row.length !== k)) {
    throw new InputError(
      `${caller} requires a square table of at least 2 categories, got rows of ${table.map((row) => row.length).join(", ")}`,
    );
  }
  table.forEach((row, i) => {
    row.forEach((count, j) => {
      requireCount(caller, `cell ${i}, ${j}`, count);
    });
  });
  const agreement = agreementWeights(weights, k);
  const n = table.flat().reduce((sum, count) => sum + count, 0);
  const made = {
    kind: "cohen-kappa" as const,
    n,
    categories: k,
    level,
    weights: typeof weights === "string" ? weights : ("given" as const),
  };
  if (n === 0) {
    return { ...made, observed: null, expected: null, kappa: undefinedBecause("no rows") };
  }
  const share = table.map((row) => row.map((count) => count / n));
  const rows = share.map((row) => row.reduce((sum, p) => sum + p, 0));
  const columns = rows.map((_, j) => share.reduce((sum, row) => sum + row[j], 0));
  const each = (value: (i: number, j: number) => number) => {
    let sum = 0;
    for (let i = 0; i < k; i++) for (let j = 0; j < k; j++) sum += value(i, j);
    return sum;
  };
  const observed = each((i, j) => agreement[i][j] * share[i][j]);
  const expected = each((i, j) => agreement[i][j] * rows[i] * columns[j]);
  if (1 - expected < 1e-12) {
    const reason = "both raters used one and the same category: no disagreement was possible";
    return { ...made, observed, expected, kappa: undefinedBecause(reason) };
  }
  const kappa = (observed - expected) / (1 - expected);
  const rowMeans = agreement.map((row) => row.reduce((sum, w, j) => sum + w * columns[j], 0));
  const columnMeans = agreement.map((_, j) =>
    agreement.reduce((sum, row, i) => sum + row[j] * rows[i], 0),
  );
  const spread = each(
    (i, j) => share[i][j] * (agreement[i][j] - (rowMeans[i] + columnMeans[j]) * (1 - kappa)) ** 2,
  );
  const variance = (spread - (kappa - expected * (1 - kappa)) ** 2) / (n * (1 - expected) ** 2);
  const estimate = symmetricEstimate(kappa, Math.sqrt(Math.max(0, variance)), level, "fleiss");
  return { ...made, observed, expected, kappa: { ...estimate, high: Math.min(1, estimate.high) } };
}

const caller = "cohenKappa";

function agreementWeights(weights: KappaWeights, k: number): number[][] {
  if (typeof weights === "string") {
    if (!["none", "linear", "quadratic"].includes(weights)) {
      throw new InputError(`${caller} requires weights none, linear or quadratic, got ${weights}`);
    }
    const of = (i: number, j: number) => {
      if (weights === "none") return Number(i === j);
      const distance = Math.abs(i - j) / (k - 1);
      return 1 - (weights === "linear" ? distance : distance ** 2);
    };
    return Array.from({ length: k }, (_, i) => Array.from({ length: k }, (_, j) => of(i, j)));
  }
  const fits = weights.length === k && weights.every((row) => row.length === k);
  const flat = weights.flat();
  if (
    !fits ||
    flat.some((w) => !(w >= 0 && Number.isFinite(w))) ||
    weights.some((row, i) => row[i] !== 0)
  ) {
    throw new InputError(
      `${caller} requires ${k} by ${k} disagreement weights of 0 or more, 0 on the diagonal, got another matrix`,
    );
  }
  const greatest = Math.max(...flat);
  if (greatest === 0) {
    throw new InputError(`${caller} requires a disagreement weight above 0, got none`);
  }
  return weights.map((row) => row.map((w) => 1 - w / greatest));
}
