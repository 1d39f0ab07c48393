import { fTail } from "../inference/index.js";
import { type Undefined, undefinedBecause } from "../results/index.js";

/** Test that groups share one mean, whatever their spreads. */
export interface EqualMeansTest {
  readonly kind: "brown-forsythe";
  readonly f: number;
  /** Of the numerator and of the denominator; not whole numbers as a rule. */
  readonly df: readonly [number, number];
  readonly p: number;
  /** Children in each group: one mean of each. */
  readonly children: readonly number[];
}

/**
 * Brown and Forsythe 1974 on independent values, with the numerator's degrees of freedom of Mehrotra
 * 1997: F = sum n(m - M)² / sum c, c = (1 - n/N) s². Its size stays at most .055 where spreads and
 * numbers differ, tails are heavy and values skewed; it is conservative with 4 or 5 a group.
 *
 * @param groups names and values, such as the mean difference of each child
 */
export function brownForsythe(
  groups: readonly { readonly group: string; readonly values: readonly number[] }[],
): EqualMeansTest | Undefined {
  if (groups.length < 2) return undefinedBecause("fewer than two groups have rows");
  const small = groups.filter(({ values }) => values.length < 4);
  if (small.length > 0) {
    return undefinedBecause(
      `fewer than 4 children in ${small.map(({ group }) => `"${group}"`).join(", ")}: merge small groups with others`,
    );
  }
  const parts = groups.map(({ values }) => {
    const n = values.length;
    const mean = values.reduce((sum, value) => sum + value, 0) / n;
    return { n, mean, variance: values.reduce((sum, v) => sum + (v - mean) ** 2, 0) / (n - 1) };
  });
  const sum = (of: (part: (typeof parts)[number]) => number) =>
    parts.reduce((total, part) => total + of(part), 0);
  const n = sum((part) => part.n);
  const mean = sum((part) => part.n * part.mean) / n;
  const share = (part: (typeof parts)[number]) => (1 - part.n / n) * part.variance;
  const total = sum(share);
  if (!(total > 0)) return undefinedBecause("the differences do not vary within groups");
  const f = sum((part) => part.n * (part.mean - mean) ** 2) / total;
  const df1 =
    total ** 2 /
    (sum((part) => part.variance ** 2) +
      sum((part) => (part.n * part.variance) / n) ** 2 -
      2 * sum((part) => (part.n * part.variance ** 2) / n));
  const df2 = total ** 2 / sum((part) => share(part) ** 2 / (part.n - 1));
  return {
    kind: "brown-forsythe",
    f,
    df: [df1, df2],
    p: fTail(f, df1, df2),
    children: parts.map((part) => part.n),
  };
}
