import { requireLevel } from "../inference/index.js";
import { type Estimate, InputError, type Undefined, undefinedBecause } from "../results/index.js";
import {
  clustersOf,
  groupRows,
  isLabel,
  requireLength,
  requireNumbers,
  requirePairs,
  rowsOfGroups,
  takeColumns,
  takeRows,
} from "../rows/index.js";
import {
  type LimitsOfAgreement,
  type LimitsOptions,
  limitsOfAgreement,
  type PairedMeasurements,
} from "./limits/limitsOfAgreement.js";
import { differenceRegression } from "./regression/differenceRegression.js";

export interface BiasGroup {
  readonly group: string;
  readonly n: number;
  readonly subjects: number;
  readonly bias: Estimate | Undefined;
  readonly sd: Estimate | Undefined;
  readonly lower: Estimate | Undefined;
  readonly upper: Estimate | Undefined;
  /** The whole result that these come from. */
  readonly agreement: LimitsOfAgreement | Undefined;
}

export interface BiasBy {
  readonly kind: "bias-by";
  /** What the groups are of, such as "age". */
  readonly factor: string;
  readonly n: number;
  readonly level: number;
  readonly groups: readonly BiasGroup[];
  /** Rows without a group (NaN or an empty label), which no group contains. */
  readonly withoutGroup: number;
  /** Wald test that the bias is the same in all groups, cluster-robust where subjects repeat. */
  readonly homogeneity:
    | { readonly f: number; readonly df: readonly [number, number]; readonly p: number }
    | Undefined;
}

/**
 * Limits of agreement in groups: by age, refractive group, confidence score, pupil, delay or quality
 * of the reference. `by` holds labels, or numbers with `breaks`: bands [a, b), the first open below
 * and the last open above. Groups come in order of breaks, or as they first appear.
 *
 * Grouping by the test or by the reference itself shows part of its error as bias (regression to the
 * mean). Groups with fewer than 3 rows or subjects are undefined; rows without a group are counted.
 *
 * Test and reference are in one unit, dioptres as a rule, and so are the results.
 *
 * @throws when columns differ in length, breaks do not ascend, or numbers come without breaks
 *
 * @example
 * biasBy({ test: [1, 2, 3, 4, 5, 7], reference: [1, 2, 2, 3, 3, 4], by: [3, 4, 4, 8, 9, 9] }, { factor: "age", breaks: [6] }).groups[1].group // => "6 and over"
 */
export function biasBy(
  data: PairedMeasurements & { readonly by: ArrayLike<string | number> },
  options: LimitsOptions & { readonly factor: string; readonly breaks?: readonly number[] },
): BiasBy {
  const caller = "biasBy";
  const { factor, breaks, ...limits } = options;
  const { test, reference } = data;
  const n = requirePairs(caller, { test, reference }, 1);
  const level = requireLevel(caller, limits.level ?? 0.95);
  requireLength(caller, "by", data.by, n);
  for (const name of ["subjects", "units"] as const) clustersOf(caller, data[name], n, name);
  const { names, ofRow } = breaks ? bandsOf(data.by, breaks) : labelsOf(data.by);
  const { rows, outside: withoutGroup } = rowsOfGroups(ofRow, names.length);
  const groups = names.map((group, at) => groupLimits(data, group, rows[at], limits));
  return {
    kind: "bias-by",
    factor,
    n,
    level,
    groups,
    withoutGroup,
    homogeneity: homogeneityOf(data, rows, level),
  };
}

function groupLimits(
  data: PairedMeasurements,
  group: string,
  rows: readonly number[],
  limits: LimitsOptions,
): BiasGroup {
  const part = rowsFrom(data, rows);
  const subjects = clustersOf("biasBy", part.subjects, rows.length).count;
  const agreement =
    subjects < 3
      ? undefinedBecause(`${rows.length} rows of ${subjects} subjects are too few`)
      : limitsOfAgreement(part, limits);
  const { bias, sd, lower, upper } =
    agreement.kind === "undefined"
      ? { bias: agreement, sd: agreement, lower: agreement, upper: agreement }
      : agreement;
  return { group, n: rows.length, subjects, bias, sd, lower, upper, agreement };
}

function rowsFrom(data: PairedMeasurements, rows: readonly number[]): PairedMeasurements {
  const { test, reference, subjects, units } = data;
  return takeColumns({ test, reference, subjects, units }, rows);
}

function homogeneityOf(
  data: PairedMeasurements,
  groups: readonly (readonly number[])[],
  level: number,
): BiasBy["homogeneity"] {
  const filled = groups.filter((rows) => rows.length > 0);
  if (filled.length < 2) return undefinedBecause("fewer than two groups have rows");
  const { test, reference, units, subjects = units } = rowsFrom(data, filled.flat());
  const numbers = filled.flatMap((rows, index) => rows.map(() => index));
  const covariates = Object.fromEntries(
    filled
      .slice(1)
      .map((_, index) => [
        `group ${index + 2}`,
        numbers.map((number) => (number === index + 1 ? 1 : 0)),
      ]),
  );
  try {
    return differenceRegression({ test, reference, subjects, covariates }, { level }).wald;
  } catch (error) {
    if (error instanceof InputError) return undefinedBecause("too few rows or subjects to compare");
    throw error;
  }
}

/** Groups by name, and each row's; -1 without one. */
interface Grouped {
  readonly names: readonly string[];
  readonly ofRow: Int32Array;
}

function labelsOf(by: ArrayLike<string | number>): Grouped {
  const ofRow = new Int32Array(by.length).fill(-1);
  const known = Array.from(ofRow.keys()).filter((row) => isLabel(by[row]));
  const strange = known.find((row) => typeof by[row] === "number" && !Number.isInteger(by[row]));
  if (strange !== undefined) {
    throw new InputError(`biasBy requires breaks for a column of measurements, got ${by[strange]}`);
  }
  const groups = groupRows("biasBy", takeRows(by, known), known.length, "by");
  groups.forEach(({ rows }, at) => {
    for (const row of rows) ofRow[known[row]] = at;
  });
  return { names: groups.map(({ label }) => label), ofRow };
}

function bandsOf(by: ArrayLike<string | number>, breaks: readonly number[]): Grouped {
  if (breaks.length === 0 || breaks.some((value, i) => i > 0 && !(value > breaks[i - 1]))) {
    throw new InputError(`biasBy requires ascending breaks, got ${breaks.join(", ")}`);
  }
  const numbers = by as ArrayLike<number>;
  requireNumbers("biasBy", "by, with breaks", numbers, numbers.length, { missing: "NaN" });
  return {
    names: [
      `below ${breaks[0]}`,
      ...breaks.slice(1).map((limit, index) => `${breaks[index]} to below ${limit}`),
      `${breaks[breaks.length - 1]} and over`,
    ],
    ofRow: Int32Array.from(numbers, (value) =>
      Number.isNaN(value) ? -1 : breaks.filter((limit) => value >= limit).length,
    ),
  };
}
