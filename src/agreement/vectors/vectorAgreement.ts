import { chiSquareQuantile, fTail, normalQuantile, requireLevel } from "../../inference/index.js";
import type { PowerVector } from "../../refraction/index.js";
import {
  type ForAudience,
  formerNames,
  InputError,
  jointAudience,
  type Undefined,
  undefinedBecause,
} from "../../results/index.js";
import type { ClusterColumns } from "../../rows/index.js";
import { type LimitsOfAgreement, limitsOfAgreement } from "../limits/limitsOfAgreement.js";
import { choleskyInverse, quadraticForm } from "../regression/smallMatrix.js";
import { type AstigmatismEllipses, astigmatismEllipses } from "./astigmatismEllipses.js";
import { type Eyes, type VectorMoments, vectorColumns, vectorMoments } from "./vectorColumns.js";
import { type VectorDistances, vectorDistances } from "./vectorDistances.js";
import { type VectorRegion, vectorRegions } from "./vectorRegions.js";

/** Hotelling's test that the mean difference vector is 0. */
export interface HotellingTest {
  readonly kind: "hotelling";
  readonly t2: number;
  readonly f: number;
  /** Of the numerator and of the denominator. */
  readonly df: readonly [number, number];
  readonly p: number;
  readonly method: VectorMoments["method"];
}

/** Agreement of refractions as power vectors, test minus reference. */
export interface VectorAgreement extends ForAudience {
  readonly kind: "vector-agreement";
  readonly n: number;
  readonly subjects: number;
  readonly direction: "test-minus-reference";
  readonly level: number;
  readonly coverage: number;
  readonly mirrored: boolean;
  /** Mean of test minus reference. */
  readonly mean: PowerVector;
  /** Covariance of one difference's M, J0, J45, in this order. */
  readonly covariance: readonly (readonly number[])[];
  /** Covariance of the mean, over children. */
  readonly meanCovariance: readonly (readonly number[])[];
  readonly hotelling: HotellingTest | Undefined;
  readonly ellipses: AstigmatismEllipses;
  /** Regions of all three components, by their names. */
  readonly regions: readonly VectorRegion[];
  /** How the limits of the three components hold together. */
  readonly simultaneous: "bonferroni" | "ellipsoid-shadow" | "none";
  readonly limits: {
    readonly M: LimitsOfAgreement;
    readonly J0: LimitsOfAgreement;
    readonly J45: LimitsOfAgreement;
  };
  readonly distances: VectorDistances;
}

export interface VectorOptions {
  readonly level?: number;
  /** Share of eyes, of regions and limits; 0.95 by default. */
  readonly coverage?: number;
  /** Bonferroni (2.394 SD for 0.95; default), the ellipsoid's shadow (2.796 SD), or each alone. */
  readonly simultaneous?: "bonferroni" | "ellipsoid-shadow" | "none";
  /** Lengths of the difference whose share is wanted; 0.25, 0.50, 1.00 D by default. */
  readonly acceptable?: readonly number[];
  /** Replicates of the simulated tolerance region; without it there is none. */
  readonly replicates?: number;
  readonly seed?: number;
}

/**
 * Agreement of refractions as vectors (M, J0, J45; Thibos, Wheeler and Horner 1997): mean
 * difference, covariance, Hotelling's test, regions named for what they are, limits per component
 * that hold simultaneously, and how long the differences are. A difference is test minus reference.
 *
 * With `eyes`, left eyes are mirrored here, test and reference alike; without it the caller has
 * done so or has one eye a child. With `subjects` the covariance of the mean is cluster-robust and
 * the F has (3, subjects - 3) degrees of freedom; without them rows are independent. With `clusters` it is that of a
 * delete-one-site jackknife, and effective sites (1 / sum of squared shares of rows) stand for subjects in the F.
 *
 * @param data vectors in dioptres
 * @throws when the columns differ in length, a component is not finite, or there are fewer than 5
 * rows or subjects
 *
 * @example
 * const vectors = [[0, 1, 0], [1, 0, 1], [0, -1, 0], [1, 0, -1], [0, 0.5, 0.5]].map(([M, J0, J45]) => ({ M, J0, J45 }));
 * const reference = vectors.map(() => ({ M: 0, J0: 0, J45: 0 }));
 * const found = vectorAgreement({ test: vectors, reference });
 * found.mean // => { M: 0.4, J0: 0.1, J45: 0.1 }
 * found.hotelling.t2 // => 3.142857
 */
export function vectorAgreement(
  data: {
    readonly test: ArrayLike<PowerVector>;
    readonly reference: ArrayLike<PowerVector>;
    readonly eyes?: Eyes;
  } & ClusterColumns,
  options: VectorOptions = {},
): VectorAgreement {
  const caller = "vectorAgreement";
  options = formerNames(caller, options, "tolerance");
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
  const moments = vectorMoments(caller, differences, data);
  const [M, J0, J45] = moments.mean;
  const { simultaneous = "bonferroni", acceptable = [0.25, 0.5, 1], replicates } = options;
  const tolerance = replicates && {
    replicates,
    seed: options.seed ?? 1,
  };
  if (tolerance && data.clusters) {
    throw new InputError(
      `${caller} requires subjects for a tolerance region, got clusters with sites, which its simulation does not know; leave replicates out`,
    );
  }
  const multiplier = simultaneousMultiplier(simultaneous, coverage);
  const { subjects, clusters } = data;
  const whose = { subjects, clusters };
  const limits = (component: number) =>
    limitsOfAgreement(
      { test: test[component], reference: reference[component], ...whose },
      { level, multiplier, conditional: "skip" },
    );
  return {
    kind: "vector-agreement",
    ...jointAudience(data),
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
    regions: vectorRegions(moments, level, coverage, tolerance || undefined),
    simultaneous,
    limits: { M: limits(0), J0: limits(1), J45: limits(2) },
    distances: vectorDistances(differences, whose, acceptable, level),
  };
}

function simultaneousMultiplier(how: VectorOptions["simultaneous"], coverage: number): number {
  if (how === "ellipsoid-shadow") return Math.sqrt(chiSquareQuantile(coverage, 3));
  return normalQuantile(1 - (1 - coverage) / (how === "none" ? 2 : 6));
}

function hotellingTest({
  units,
  method,
  mean,
  meanCovariance,
}: VectorMoments): HotellingTest | Undefined {
  const inverse = choleskyInverse(meanCovariance);
  if (inverse === null) {
    return undefinedBecause("the covariance of the mean difference is singular");
  }
  const p = mean.length;
  const t2 = quadraticForm(mean, inverse);
  const f = (t2 * (units - p)) / (p * (units - 1));
  return {
    kind: "hotelling",
    t2,
    f,
    df: [p, units - p],
    p: fTail(f, p, units - p),
    method,
  };
}
