import { chiSquareTail, normalQuantile, requireLevel, twoSidedP } from "../../inference/index.js";
import {
  type Estimate,
  type ForAudience,
  formerNames,
  InputError,
  type Undefined,
  undefinedBecause,
} from "../../results/index.js";
import {
  type ClusterColumns,
  type PositiveWhen,
  requireNoSites,
  type YesNoColumn,
} from "../../rows/index.js";
import { type JointAreas, jointAreas } from "./jointAreas.js";

/** Two areas under curves and their difference, first minus second. */
export interface AreaComparison {
  readonly kind: "area-comparison";
  readonly design: "paired" | "unpaired";
  readonly n: number;
  /** Number of children, where subjects were given. */
  readonly subjects?: number;
  /** Number of sites above them, where `clusters` were given. */
  readonly sites?: number;
  readonly first: number;
  readonly second: number;
  /** Area of the first minus area of the second, with a symmetric interval. */
  readonly difference: Estimate | Undefined;
  /** Correlation of the two estimated areas; null where one of them does not vary. */
  readonly correlation: number | null;
  /** Difference over its standard error; null where that is 0. */
  readonly z: number | null;
  /** Two-sided. */
  readonly p: number | null;
  readonly level: number;
  readonly method: string;
}

/**
 * Compares the areas of two tests on the same rows.
 *
 * The covariance is that of DeLong and others 1988; of Obuchowski 1997 where `subjects` repeat.
 * Without `subjects` rows are taken as independent. z is the difference over its standard error;
 * z squared is the paper's chi-square. With `clusters: { subject, site }` the difference has the
 * delete-one-site jackknife's interval, and no z or p: the covariance is by child.
 *
 * An area is a proportion, 0 to 1.
 *
 * @param options one direction for both tests, or [direction of the first, of the second]
 * @throws on faulty columns or a missing class
 *
 * @example
 * compareAreas({ first: [1, 2, 3, 4, 5, 6], second: [2, 1, 4, 3, 6, 5], condition: [0, 1, 0, 0, 1, 1] }, { positiveWhen: "high" }).first // => 0.7778
 */
export function compareAreas(
  data: ClusterColumns & {
    readonly first: ArrayLike<number>;
    readonly second: ArrayLike<number>;
    readonly condition: YesNoColumn;
  },
  options: {
    readonly positiveWhen: PositiveWhen | readonly [PositiveWhen, PositiveWhen];
    readonly level?: number;
  },
): AreaComparison {
  const caller = "compareAreas";
  data = formerNames(caller, data, "areas");
  const level = requireLevel(caller, options?.level ?? 0.95);
  const { first, second, condition, subjects, clusters } = data;
  const joint = jointAreas(
    caller,
    [
      { name: "first", values: first },
      { name: "second", values: second },
    ],
    { condition, subjects, clusters },
    directions(caller, options?.positiveWhen, 2),
  );
  if (joint.sites !== undefined) {
    return {
      kind: "area-comparison",
      design: "paired",
      n: joint.n,
      subjects: joint.subjects,
      sites: joint.sites.count,
      first: joint.areas[0],
      second: joint.areas[1],
      difference: joint.sites.interval(([one, other]) => one - other, "plain", level),
      correlation: null,
      z: null,
      p: null,
      level,
      method: "site-jackknife",
    };
  }
  const [[varA, covariance], [, varB]] = joint.covariance;
  return {
    kind: "area-comparison",
    design: "paired",
    n: joint.n,
    ...(joint.subjects === undefined ? {} : { subjects: joint.subjects }),
    first: joint.areas[0],
    second: joint.areas[1],
    ...differenceOf(joint.areas, varA + varB - 2 * covariance, level, joint.method),
    correlation: varA > 0 && varB > 0 ? covariance / Math.sqrt(varA * varB) : null,
    level,
    method: joint.method,
  };
}

/** The difference of two areas with its test. */
export function differenceOf(
  [first, second]: readonly number[],
  variance: number,
  level: number,
  method: string,
): Pick<AreaComparison, "difference" | "z" | "p"> {
  const value = first - second;
  const se = Math.sqrt(variance);
  // rounding leaves about 1e-17 where both areas move together
  if (!(variance > 1e-15)) {
    const reason = "the difference of the areas has no variance in these rows";
    return { difference: undefinedBecause(reason), z: null, p: null };
  }
  const reach = normalQuantile((1 + level) / 2) * se;
  const [low, high] = [Math.max(-1, value - reach), Math.min(1, value + reach)];
  const z = value / se;
  return {
    difference: { kind: "estimate", value, low, high, level, method, se },
    z,
    p: twoSidedP(z),
  };
}

/** Areas of several tests on the same rows, and the test that all are equal. */
export interface SeveralAreas {
  readonly kind: "several-areas";
  readonly n: number;
  readonly subjects?: number;
  readonly tests: readonly string[];
  readonly areas: readonly number[];
  readonly covariance: readonly (readonly number[])[];
  /** Test that all areas are equal; null where the differences have no variance. */
  readonly chiSquare: number | null;
  readonly df: number;
  readonly p: number | null;
  readonly method: string;
}

/**
 * Areas of several tests on the same rows with their covariance, and the test that all are equal
 * (DeLong and others 1988; clustered by Obuchowski 1997 where `subjects` repeat). Differences that
 * are combinations of others (tests that are copies) lower the degrees of freedom.
 *
 * @param data values is an object: test name to column
 * @param options one direction for all, or one a test under the same names
 *
 * @throws with fewer than two tests, or where a column has another length
 *
 * @example
 * compareSeveralAreas({ values: { a: [1, 2, 3, 4, 5, 6], b: [2, 1, 4, 3, 6, 5], c: [6, 1, 2, 3, 5, 4] }, condition: [0, 1, 0, 0, 1, 1] }, { positiveWhen: "high" }).df // => 2
 */
export function compareSeveralAreas(
  data: {
    readonly values: { readonly [test: string]: ArrayLike<number> };
    readonly condition: YesNoColumn;
    readonly subjects?: ArrayLike<string | number>;
  } & ForAudience,
  options: { readonly positiveWhen: PositiveWhen | { readonly [test: string]: PositiveWhen } },
): SeveralAreas {
  const caller = "compareSeveralAreas";
  requireNoSites(caller, data, "compare two at a time with compareAreas");
  const tests = Object.keys(data.values);
  if (tests.length < 2) {
    throw new InputError(`${caller} requires at least 2 tests, got ${tests.length}`);
  }
  const given = options?.positiveWhen;
  const joint = jointAreas(
    caller,
    tests.map((name) => ({ name, values: data.values[name] })),
    data,
    tests.map((name) => (typeof given === "object" && given !== null ? given[name] : given)),
  );
  if (!joint.covariance.flat().every(Number.isFinite)) {
    throw new InputError(`${caller} requires at least 2 children, got ${joint.subjects}`);
  }
  return {
    kind: "several-areas",
    n: joint.n,
    ...(joint.subjects === undefined ? {} : { subjects: joint.subjects }),
    tests,
    areas: joint.areas,
    covariance: joint.covariance,
    ...equality(joint),
    method: joint.method,
  };
}

/** Chi-square of all contrasts to the first area, leaving out those that follow from others. */
function equality({
  areas,
  covariance: v,
}: JointAreas): Pick<SeveralAreas, "chiSquare" | "df" | "p"> {
  const p = areas.length - 1;
  const contrast = areas.slice(1).map((area) => area - areas[0]);
  const matrix = contrast.map((_, i) =>
    contrast.map((__, j) => v[i + 1][j + 1] - v[i + 1][0] - v[0][j + 1] + v[0][0]),
  );
  // forward elimination of [matrix | contrast] with the greatest pivot first
  let chiSquare = 0;
  let df = 0;
  const left = matrix.map((_, i) => i);
  const scale = Math.max(...matrix.map((row, i) => row[i]));
  for (let step = 0; step < p; step++) {
    const pivot = left.reduce((best, i) => (matrix[i][i] > matrix[best][best] ? i : best), left[0]);
    if (!(matrix[pivot][pivot] > 1e-10 * scale) || !(scale > 0)) break;
    left.splice(left.indexOf(pivot), 1);
    chiSquare += contrast[pivot] ** 2 / matrix[pivot][pivot];
    df++;
    for (const i of left) {
      const factor = matrix[i][pivot] / matrix[pivot][pivot];
      for (const j of left) matrix[i][j] -= factor * matrix[pivot][j];
      contrast[i] -= factor * contrast[pivot];
    }
  }
  if (df === 0) return { chiSquare: null, df, p: null };
  return { chiSquare, df, p: chiSquareTail(chiSquare, df) };
}

function directions(
  caller: string,
  given: PositiveWhen | readonly [PositiveWhen, PositiveWhen],
  count: number,
): PositiveWhen[] {
  if (!Array.isArray(given)) return new Array<PositiveWhen>(count).fill(given as PositiveWhen);
  if (given.length !== count) {
    throw new InputError(`${caller} requires ${count} directions, got ${given.length}`);
  }
  return [...(given as PositiveWhen[])];
}
