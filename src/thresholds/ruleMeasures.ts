import { InputError } from "../results/index.js";

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
 * A criterion needs both eyes: NaN where one of them has no value, so that `unreadable` decides.
 * An eye above the instrument's range gives a hyperopia of `Infinity`, one below it a myopia of
 * `Infinity`: referred whatever the limit. With `unreadable: "pass"` a child with one readable eye
 * passes even if that eye alone would be referred; `applyRule` is finer.
 *
 * @param measurements columns of readings or findings, dioptres
 * @param rows row of each child's right and left eye, -1 where there is none
 * @throws when the two lists of rows differ in length
 *
 * @example
 * ruleMeasures({ sphere: [3, 1], cylinder: [-1, 0] }, { right: [0], left: [1] }).anisometropia[0] // => 1.5
 */
export function ruleMeasures(
  measurements: EyeColumns,
  rows: { readonly right: ArrayLike<number>; readonly left: ArrayLike<number> },
): RuleMeasures {
  const n = rows.right.length;
  if (rows.left.length !== n) {
    throw new InputError(
      `ruleMeasures requires a right and a left row for every child, got ${n} and ${rows.left.length}`,
    );
  }
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
    const above = right.status === "over-range" || left.status === "over-range";
    const below = right.status === "under-range" || left.status === "under-range";
    found.hyperopia[child] = above ? Number.POSITIVE_INFINITY : Math.max(right.M, left.M);
    found.myopia[child] = below ? Number.POSITIVE_INFINITY : -Math.min(right.M, left.M);
    found.astigmatism[child] = Math.max(right.cylinder, left.cylinder);
    found.anisometropia[child] = Math.abs(right.M - left.M);
  }
  return found;
}

function eyeAt({ sphere, cylinder, status }: EyeColumns, row: number) {
  const word = row < 0 || status === undefined ? "measured" : status.labels[status.codes[row]];
  if (row < 0 || word !== "measured") {
    return { status: word, M: Number.NaN, cylinder: Number.NaN };
  }
  return {
    status: word,
    M: sphere[row] + cylinder[row] / 2,
    cylinder: Math.abs(cylinder[row]),
  };
}
