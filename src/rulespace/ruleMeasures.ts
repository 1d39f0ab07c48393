import { InputError } from "../results/index.js";
import { onGrid } from "../rows/index.js";

/** Criteria of a child; high is worse. */
export type RuleMeasures = {
  /** Greatest spherical equivalent of the two eyes, D. */
  readonly hyperopia: Float64Array;
  /** Least spherical equivalent of the two eyes, sign turned, D. */
  readonly myopia: Float64Array;
  /** Greatest size of the cylinder of the two eyes, D. */
  readonly astigmatism: Float64Array;
  /** Size of the difference of spherical equivalents, D. */
  readonly anisometropia: Float64Array;
};

/** Columns of measurements, a row an eye, as readings and findings have them. */
export interface EyeColumns {
  readonly sphere: ArrayLike<number>;
  readonly cylinder: ArrayLike<number>;
  readonly status?: { readonly codes: ArrayLike<number>; readonly labels: readonly string[] };
}

/**
 * The four usual criteria of each child, ready for `ruleSpace`.
 *
 * Values are rounded to 0.001 as `applyRule` does. An eye above the instrument's
 * range has an equivalent of `Infinity`, one below it of `-Infinity`: beyond every limit on that
 * side; its difference from the other eye is not known.
 *
 * `eyes: "both"` (default) gives NaN where an eye that the criterion needs has no value.
 * `eyes: "present"` gives the worst of the eyes that have one: what the child's criterion is at
 * least; a difference needs both eyes all the same. The first as `measures` and the second as
 * `atLeast` make `ruleSpace` decide each child as `applyRule` does: one eye across a limit is
 * referred, one eye below it is for `undecidable` to decide.
 *
 * @param measurements columns of readings or findings, dioptres
 * @param rows row of each child's right and left eye, -1 where there is none
 * @throws when the two lists of rows differ in length, or `eyes` is neither word
 *
 * @example
 * ruleMeasures({ sphere: [3, 1], cylinder: [-1, 0] }, { right: [0], left: [1] }).anisometropia[0] // => 1.5
 * ruleMeasures({ sphere: [3], cylinder: [-1] }, { right: [0], left: [-1] }, { eyes: "present" }).hyperopia[0] // => 2.5
 */
export function ruleMeasures(
  measurements: EyeColumns,
  rows: { readonly right: ArrayLike<number>; readonly left: ArrayLike<number> },
  options: { readonly eyes?: "both" | "present" } = {},
): RuleMeasures {
  const { eyes = "both" } = options;
  const n = rows.right.length;
  if (rows.left.length !== n) {
    throw new InputError(
      `ruleMeasures requires a right and a left row for every child, got ${n} and ${rows.left.length}`,
    );
  }
  if (eyes !== "both" && eyes !== "present") {
    throw new InputError(`ruleMeasures requires eyes "both" or "present", got ${String(eyes)}`);
  }
  const worst = eyes === "both" ? worseOfBoth : worseOfPresent;
  const column = () => new Float64Array(n);
  const found = {
    hyperopia: column(),
    myopia: column(),
    astigmatism: column(),
    anisometropia: column(),
  };
  for (let child = 0; child < n; child++) {
    const right = eyeAt(measurements, rows.right[child]);
    const left = eyeAt(measurements, rows.left[child]);
    const difference = Math.abs(right.M - left.M);
    found.hyperopia[child] = worst(onGrid(right.M), onGrid(left.M));
    found.myopia[child] = worst(0 - onGrid(right.M), 0 - onGrid(left.M));
    found.astigmatism[child] = worst(onGrid(right.cylinder), onGrid(left.cylinder));
    found.anisometropia[child] =
      difference < Number.POSITIVE_INFINITY ? onGrid(difference) : Number.NaN;
  }
  return found;
}

function worseOfBoth(one: number, other: number): number {
  // beyond every limit, whatever the other eye is
  if (one === Number.POSITIVE_INFINITY || other === Number.POSITIVE_INFINITY) {
    return Number.POSITIVE_INFINITY;
  }
  return Math.max(one, other);
}

function worseOfPresent(one: number, other: number): number {
  if (Number.isNaN(one)) return other;
  return Number.isNaN(other) ? one : Math.max(one, other);
}

function eyeAt({ sphere, cylinder, status }: EyeColumns, row: number) {
  if (row < 0) return { M: Number.NaN, cylinder: Number.NaN };
  const M = sphere[row] + cylinder[row] / 2;
  const word = status?.labels[status.codes[row]];
  return {
    M: Number.isNaN(M) ? (beyondRange[word ?? ""] ?? Number.NaN) : M,
    cylinder: Math.abs(cylinder[row]),
  };
}

const beyondRange: { readonly [status: string]: number | undefined } = {
  "over-range": Number.POSITIVE_INFINITY,
  "under-range": Number.NEGATIVE_INFINITY,
};
