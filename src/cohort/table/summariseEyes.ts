import { mean, quantile, sampleStandardDeviation } from "simple-statistics";
import {
  type ForAudience,
  InputError,
  jointAudience,
  type Undefined,
  undefinedBecause,
} from "../../results/index.js";
import type { CohortTable } from "./cohortTable.js";
import { type EyeValue, isMissing, valuesOf } from "./eyeRows.js";
import { type EyeGroup, type EyeGrouping, groupEyes } from "./groupEyes.js";

/** One value described in each group of eyes. */
export interface EyeSummary extends ForAudience {
  readonly kind: "eye-summary";
  /** The column, or "value" where it is worked out. */
  readonly of: string;
  readonly n: number;
  readonly groups: readonly {
    /** Empty where all eyes are one group. */
    readonly group: EyeGroup["group"];
    readonly eyes: number;
    readonly children: number;
    /** Eyes without the value, which are in `eyes` and in no other number. */
    readonly missing: number;
    readonly mean: number | Undefined;
    readonly sd: number | Undefined;
    readonly median: number | Undefined;
    readonly lowerQuartile: number | Undefined;
    readonly upperQuartile: number | Undefined;
    readonly least: number | Undefined;
    readonly greatest: number | Undefined;
  }[];
}

/**
 * A number described, over all eyes or in each group: how many have it, mean, SD (n - 1), median, quartiles
 * (linear between neighbours), least and greatest. Missing values are counted and left out. Two eyes of a
 * child are two rows here and there is no interval: those come from the functions of agreement and accuracy.
 *
 * @param options `of`, a column of numbers or what is worked out of a row; `by` as for `groupEyes`
 * @throws InputError when the column is one of words; what no eye has is undefined
 * @example
 * const eyes = [-1, -4].map((sphere, at) => ({ subject: String(at), eye: "OD", sphere, cylinder: 0, axis: 0 }));
 * const cohort = linkCohort({ readings: await readReadings(eyes), findings: await readFindings(eyes) });
 * summariseEyes(cohortTable(cohort), { of: "readingM" }).groups[0].mean // => -2.5
 */
export function summariseEyes(
  table: CohortTable,
  options: {
    /** A column of numbers, or what is worked out of a row. */
    readonly of: EyeValue;
    /** What makes the groups; without it all eyes are one. */
    readonly by?: EyeGrouping;
  },
): EyeSummary {
  const { of, by } = options;
  const groups = by === undefined ? [{ group: {}, table }] : groupEyes(table, by);
  return {
    kind: "eye-summary",
    ...jointAudience(table),
    of: typeof of === "function" ? "value" : of,
    n: table.n,
    groups: groups.map(({ group, table: { n, children }, table: part }) => {
      const values = valuesOf("summariseEyes", part, of).filter((value) => !isMissing(value));
      return { group, eyes: n, children, missing: n - values.length, ...described(values) };
    }),
  };
}

function described(values: readonly (string | number)[]) {
  const numbers = values.map((value) => {
    if (typeof value === "number") return value;
    throw new InputError(`summariseEyes requires a column of numbers, got the word "${value}"`);
  });
  const from = <Value>(least: number, value: () => Value) =>
    numbers.length >= least
      ? value()
      : undefinedBecause(least === 1 ? "no eye has the value" : "fewer than two eyes");
  return {
    mean: from(1, () => mean(numbers)),
    sd: from(2, () => sampleStandardDeviation(numbers)),
    median: from(1, () => quantile(numbers, 0.5)),
    lowerQuartile: from(1, () => quantile(numbers, 0.25)),
    upperQuartile: from(1, () => quantile(numbers, 0.75)),
    least: from(1, () => numbers.reduce((a, b) => Math.min(a, b))),
    greatest: from(1, () => numbers.reduce((a, b) => Math.max(a, b))),
  };
}
