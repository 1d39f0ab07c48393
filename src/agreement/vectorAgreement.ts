import { fCdf } from "../inference/distributions.js";
import { requireLevel } from "../inference/requireLevel.js";
import { InputError, type Undefined, undefinedBecause } from "../results/index.js";
import { type AstigmatismEllipses, astigmatismEllipses } from "./astigmatismEllipses.js";
import { choleskyInverse, quadraticForm } from "./smallMatrix.js";
import {
  type Eyes,
  type VectorComponents,
  type VectorMoments,
  vectorColumns,
  vectorMoments,
} from "./vectorColumns.js";

/** Hotelling's test that the mean difference vector is 0. */
export interface HotellingTest {
  readonly kind: "hotelling";
  readonly t2: number;
  readonly f: number;
  /** Of the numerator and of the denominator. */
  readonly df: readonly [number, number];
  readonly p: number;
  readonly method: "hotelling" | "hotelling-cluster-robust";
}

export interface VectorAgreement {
  readonly kind: "vectorAgreement";
  readonly n: number;
  readonly subjects: number;
  readonly direction: "test-minus-reference";
  readonly level: number;
  readonly coverage: number;
  readonly mirrored: boolean;
  /** Mean of test minus reference. */
  readonly mean: VectorComponents;
  /** Covariance of one difference's M, J0, J45, in this order. */
  readonly covariance: readonly (readonly number[])[];
  /** Covariance of the mean, over children. */
  readonly meanCovariance: readonly (readonly number[])[];
  readonly hotelling: HotellingTest | Undefined;
  readonly ellipses: AstigmatismEllipses;
}

/**
 * Agreement of refractions as vectors (M, J0, J45): mean difference, covariance, Hotelling's test,
 * and the ellipses of the astigmatic difference. A difference is test minus reference.
 *
 * With `eyes`, left eyes are mirrored here, test and reference alike; without it the caller has
 * done so or has one eye a child. With `subjects` the covariance of the mean is cluster-robust and
 * the F has (3, subjects - 3) degrees of freedom; without them rows are independent.
 *
 * @throws when the columns differ in length, a component is not finite, or there are fewer than 5
 * rows or subjects
 */
export function vectorAgreement(
  data: {
    readonly test: ArrayLike<VectorComponents>;
    readonly reference: ArrayLike<VectorComponents>;
    readonly subjects?: ArrayLike<string | number>;
    readonly eyes?: Eyes;
  },
  options: { readonly level?: number; readonly coverage?: number } = {},
): VectorAgreement {
  const caller = "vectorAgreement";
  const level = requireLevel(caller, options.level ?? 0.95);
  const coverage = requireLevel(caller, options.coverage ?? 0.95);
  if (data.test.length !== data.reference.length) {
    throw new InputError(
      `${caller} requires test and reference of one length, got ${data.test.length} and ${data.reference.length}`,
    );
  }
  const test = vectorColumns(caller, data.test, data.eyes);
  const reference = vectorColumns(caller, data.reference, data.eyes);
  const differences = test.map((column, j) =>
    column.map((value, row) => value - reference[j][row]),
  );
  const moments = vectorMoments(caller, differences, data.subjects);
  const [M, J0, J45] = moments.mean;
  return {
    kind: "vectorAgreement",
    n: moments.n,
    subjects: moments.clusters,
    direction: "test-minus-reference",
    level,
    coverage,
    mirrored: data.eyes !== undefined,
    mean: { M, J0, J45 },
    covariance: moments.covariance,
    meanCovariance: moments.meanCovariance,
    hotelling: hotellingTest(moments),
    ellipses: astigmatismEllipses(moments, level, coverage),
  };
}

function hotellingTest({
  n,
  clusters,
  mean,
  meanCovariance,
}: VectorMoments): HotellingTest | Undefined {
  const inverse = choleskyInverse(meanCovariance);
  if (inverse === null) {
    return undefinedBecause("the covariance of the mean difference is singular");
  }
  const p = mean.length;
  const t2 = quadraticForm(mean, inverse);
  const f = (t2 * (clusters - p)) / (p * (clusters - 1));
  return {
    kind: "hotelling",
    t2,
    f,
    df: [p, clusters - p],
    p: 1 - fCdf(f, p, clusters - p),
    method: clusters < n ? "hotelling-cluster-robust" : "hotelling",
  };
}
