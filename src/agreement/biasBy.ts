import { requireLevel } from "../inference/index.js";
import {
  type Estimate,
  type ForAudience,
  formerNames,
  InputError,
  jointAudience,
  type Undefined,
  undefinedBecause,
} from "../results/index.js";
import {
  type Clusters,
  childrenOf,
  groupRows,
  isLabel,
  requireLength,
  requireNumbers,
  requirePairs,
  rowsOfGroups,
  sitesOf,
  takeRows,
} from "../rows/index.js";
import { brownForsythe, type EqualMeansTest } from "./brownForsythe.js";
import type { LimitsOptions } from "./limits/limitsData.js";
import { type LimitsOfAgreement, limitsOfAgreement } from "./limits/limitsOfAgreement.js";
import { type PairedMeasurements, pickPairs } from "./limits/pairedMeasurements.js";
import { unitsWithin } from "./unitsWithin.js";

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

/** Limits of agreement in each group, and the test that the bias is one. */
export interface BiasBy extends ForAudience {
  readonly kind: "bias-by";
  /** What the groups are of, such as "age". */
  readonly label: string;
  readonly n: number;
  readonly level: number;
  readonly groups: readonly BiasGroup[];
  /** Rows without a group (NaN or an empty label), which no group contains. */
  readonly withoutGroup: number;
  /** Test that the bias is the same in all groups, on one mean per child and group. */
  readonly homogeneity: EqualMeansTest | Undefined;
  readonly notes: readonly string[];
}

/**
 * Limits of agreement in groups: by age, refractive group, confidence score, pupil, delay or quality
 * of the reference. `by` holds labels, or numbers with `breaks`: bands [a, b), the first open below
 * and the last open above; left out, it is the mean of test and reference. Groups come in order of
 * breaks, or as they first appear.
 *
 * Grouping by the test or by the reference itself (`"test"`, `"reference"`, or that very column) shows
 * part of its error as bias, which the notes say (regression to the mean). Groups with fewer than 3
 * rows or subjects are undefined; rows without a group are counted. Homogeneity: Brown and Forsythe
 * 1974 on the children's means, undefined with fewer than 4 children in a group.
 *
 * Test and reference are in one unit, dioptres as a rule, and so are the results.
 *
 * @throws when columns differ in length, breaks do not ascend, or numbers come without breaks
 *
 * @example
 * biasBy({ test: [1, 2, 3, 4, 5, 7], reference: [1, 2, 2, 3, 3, 4], by: [3, 4, 4, 8, 9, 9] }, { label: "age", breaks: [6] }).groups[1].group // => "6 and over"
 */
export function biasBy(
  data: PairedMeasurements & {
    readonly by?: ArrayLike<string | number> | "mean" | "test" | "reference";
  },
  options: LimitsOptions & { readonly label: string; readonly breaks?: readonly number[] },
): BiasBy {
  const caller = "biasBy";
  options = formerNames(caller, options, "label");
  const { label, breaks, ...limits } = options;
  const { test, reference } = data;
  const n = requirePairs(caller, { test, reference }, 1);
  const level = requireLevel(caller, limits.level ?? 0.95);
  const by = groupingOf(data);
  requireLength(caller, "by", by, n);
  const children = childrenOf(caller, data, n);
  unitsWithin(caller, children, data.units, n);
  sitesOf(caller, data, children);
  const { names, ofRow } = breaks ? bandsOf(by, breaks) : labelsOf(by);
  const { rows, outside: withoutGroup } = rowsOfGroups(ofRow, names.length);
  const groups = names.map((group, at) => groupLimits(data, group, rows[at], limits));
  return {
    kind: "bias-by",
    ...jointAudience(data),
    label,
    n,
    level,
    groups,
    withoutGroup,
    homogeneity: homogeneityOf(
      data,
      children,
      names.map((group, at) => ({ group, rows: rows[at] })),
    ),
    notes: regressionToTheMean(data, by),
  };
}

function groupLimits(
  data: PairedMeasurements,
  group: string,
  rows: readonly number[],
  limits: LimitsOptions,
): BiasGroup {
  const part = pickPairs(data, rows);
  const subjects = childrenOf("biasBy", part, rows.length).count;
  const agreement =
    subjects < 3
      ? undefinedBecause(`${rows.length} rows of ${subjects} subjects are too few`)
      : limitsOfAgreement(part, { conditional: "skip", ...limits });
  const { bias, sd, lower, upper } =
    agreement.kind === "undefined"
      ? { bias: agreement, sd: agreement, lower: agreement, upper: agreement }
      : agreement;
  return { group, n: rows.length, subjects, bias, sd, lower, upper, agreement };
}

function homogeneityOf(
  data: PairedMeasurements,
  children: Clusters,
  groups: readonly { readonly group: string; readonly rows: readonly number[] }[],
): BiasBy["homogeneity"] {
  if (data.clusters) {
    return undefinedBecause("sites: no test of equal bias is known to hold above children");
  }
  const means = groups.flatMap(({ group, rows }) => {
    const ofChild = new Map<number, { sum: number; rows: number }>();
    for (const row of rows) {
      const child = ofChild.get(children.ofRow[row]) ?? { sum: 0, rows: 0 };
      child.sum += data.test[row] - data.reference[row];
      child.rows++;
      ofChild.set(children.ofRow[row], child);
    }
    const values = Array.from(ofChild.values(), ({ sum, rows: count }) => sum / count);
    return values.length > 0 ? [{ group, values }] : [];
  });
  return brownForsythe(means);
}

function groupingOf(data: Parameters<typeof biasBy>[0]): ArrayLike<string | number> {
  const { test, reference, by = "mean" } = data;
  if (by === "test") return test;
  if (by === "reference") return reference;
  if (by === "mean") {
    return Float64Array.from({ length: test.length }, (_, row) => (test[row] + reference[row]) / 2);
  }
  if (typeof by === "string") {
    throw new InputError(
      `biasBy requires by as a column, "mean", "test" or "reference", got "${by}"`,
    );
  }
  return by;
}

/** Said where the groups are made from one of the two measurements alone. */
function regressionToTheMean(
  { test, reference }: PairedMeasurements,
  by: ArrayLike<string | number>,
): string[] {
  const same = (column: ArrayLike<number>) => {
    for (let row = 0; row < by.length; row++) if (by[row] !== column[row]) return false;
    return true;
  };
  return (["test", "reference"] as const)
    .filter((name) => same(name === "test" ? test : reference))
    .map(
      (name) =>
        `Groups of the ${name} itself: its own error looks like bias, with opposite signs at the two ends (regression to the mean); group by the mean of both.`,
    );
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
  const groups = groupRows("biasBy", takeRows(by, known), known.length);
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
