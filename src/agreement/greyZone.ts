import { proportionInterval, requireLevel, siteShare } from "../inference/index.js";
import { type Estimate, InputError, type Undefined, undefinedBecause } from "../results/index.js";
import {
  type ClusterColumns,
  type Clusters,
  childrenOf,
  clustersOf,
  countByCluster,
  limitAt,
  meets,
  requireDirection,
  requirePairs,
  sitesOf,
  takeRows,
} from "../rows/index.js";

/** Readings too near a limit to say on which side the finding is. */
export interface GreyZone {
  readonly kind: "grey-zone";
  /** Children. */
  readonly n: number;
  readonly level: number;
  readonly limit: number;
  readonly referenceLimit: number;
  readonly margin: number;
  readonly positiveWhen: "high" | "low";
  /** Children whose reading lies within the margin of the limit. */
  readonly inZone: number;
  readonly share: Estimate | Undefined;
  /** Share of children in the zone whom reading and finding classify apart. */
  readonly misclassifiedInside: Estimate | Undefined;
  readonly misclassifiedOutside: Estimate | Undefined;
}

/**
 * How many children lie within `margin` (0.50 D) of the referral limit on the test, and how often
 * reading and finding fall on different sides there, against everywhere else.
 *
 * Values at the limit count as positive (`>=` for "high", `<=` for "low"). A child with several rows
 * counts once, by its worse value of the test and of the reference (the higher for "high"). Wilson's
 * intervals over children, a jackknife over sites with `clusters`. A share over no children is undefined.
 *
 * @throws when columns differ in length, hold a value not finite, or the margin is not positive
 *
 * @example
 * greyZone({ test: [1.75, 2.25, 4, 0], reference: [2.5, 2.5, 4, 0] }, { limit: 2, positiveWhen: "high" }).share.value // => 0.5
 */
export function greyZone(
  data: ClusterColumns & {
    readonly test: ArrayLike<number>;
    readonly reference: ArrayLike<number>;
  },
  options: {
    readonly limit: number;
    /** Limit on the reference; that of the test by default. */
    readonly referenceLimit?: number;
    readonly positiveWhen: "high" | "low";
    readonly margin?: number;
    readonly level?: number;
  },
): GreyZone {
  const caller = "greyZone";
  const { test, reference } = data;
  const { limit, positiveWhen, margin = 0.5 } = options;
  const referenceLimit = options.referenceLimit ?? limit;
  const level = requireLevel(caller, options.level ?? 0.95);
  const rows = requirePairs(caller, { test, reference }, 1);
  requireDirection(caller, positiveWhen);
  if (!Number.isFinite(limit) || !Number.isFinite(referenceLimit) || !(margin > 0)) {
    throw new InputError(
      `${caller} requires finite limits and a positive margin, got ${limit}, ${referenceLimit}, ${margin}`,
    );
  }
  const clusters = childrenOf(caller, data, rows);
  const siteOf = siteOfChild(clusters, sitesOf(caller, data, clusters));
  const worseOf = positiveWhen === "high" ? Math.max : Math.min;
  const worse = (values: ArrayLike<number>) => {
    const worst = new Float64Array(clusters.count).fill(worseOf());
    for (let row = 0; row < rows; row++) {
      worst[clusters.ofRow[row]] = worseOf(worst[clusters.ofRow[row]], values[row]);
    }
    return worst;
  };
  const [readings, findings] = [worse(test), worse(reference)];
  const within = { relation: "<=", limit: margin } as const;
  const inside = Array.from(readings, (value) => meets(Math.abs(value - limit), within));
  const [tested, found] = [limit, referenceLimit].map((at) => limitAt(at, positiveWhen));
  const apart = Array.from(
    readings,
    (value, child) => meets(value, tested) !== meets(findings[child], found),
  );
  const shareOf = (which: boolean): Estimate | Undefined => {
    const chosen = [...apart.keys()].filter((child) => inside[child] === which);
    if (chosen.length === 0) {
      return undefinedBecause(`no children ${which ? "within" : "outside"} the margin`);
    }
    return shareOverChildren(apart, chosen, siteOf, level);
  };
  return {
    kind: "grey-zone",
    n: clusters.count,
    level,
    limit,
    referenceLimit,
    margin,
    positiveWhen,
    inZone: inside.filter(Boolean).length,
    share: shareOverChildren(inside, [...inside.keys()], siteOf, level),
    misclassifiedInside: shareOf(true),
    misclassifiedOutside: shareOf(false),
  };
}

/** Of some children; jackknifed over sites where there are any. */
function shareOverChildren(
  holds: readonly boolean[],
  children: readonly number[],
  siteOf: Int32Array | undefined,
  level: number,
): Estimate | Undefined {
  if (siteOf !== undefined) {
    const sites = clustersOf("greyZone", takeRows(siteOf, children), children.length);
    return siteShare(
      countByCluster(sites, (at) => holds[children[at]]),
      level,
    );
  }
  const successes = children.filter((child) => holds[child]).length;
  return proportionInterval({ successes, trials: children.length }, { level });
}

function siteOfChild(children: Clusters, sites: Clusters | undefined): Int32Array | undefined {
  if (sites === undefined) return undefined;
  const siteOf = new Int32Array(children.count);
  children.ofRow.forEach((child, row) => {
    siteOf[child] = sites.ofRow[row];
  });
  return siteOf;
}
