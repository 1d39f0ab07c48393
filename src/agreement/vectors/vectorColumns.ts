import { effectiveSites } from "../../inference/index.js";
import type { PowerVector } from "../../refraction/index.js";
import { InputError } from "../../results/index.js";
import {
  type ClusterColumns,
  type Clusters,
  childrenOf,
  hasChildren,
  sitesOf,
} from "../../rows/index.js";

const componentNames = ["M", "J0", "J45"] as const;

/** The eye of each row; left eyes are mirrored. */
export type Eyes = ArrayLike<"right" | "left">;

/** Columns M, J0, J45; with `eyes`, J45 of left eyes changes sign so that both eyes may be pooled. */
export function vectorColumns(
  caller: string,
  vectors: ArrayLike<PowerVector>,
  eyes: Eyes | undefined,
): Float64Array[] {
  const n = vectors.length;
  if (eyes !== undefined && eyes.length !== n) {
    throw new InputError(`${caller} requires eyes for each of ${n} rows, got ${eyes.length}`);
  }
  const columns = componentNames.map(() => new Float64Array(n));
  for (let row = 0; row < n; row++) {
    const eye = eyes?.[row];
    if (eyes !== undefined && eye !== "right" && eye !== "left") {
      throw new InputError(`${caller} requires "right" or "left" eyes, got ${eye} at row ${row}`);
    }
    componentNames.forEach((name, index) => {
      const value = vectors[row][name];
      if (!Number.isFinite(value)) {
        throw new InputError(`${caller} requires finite ${name}, got ${value} at row ${row}`);
      }
      columns[index][row] = name === "J45" && eye === "left" ? -value : value;
    });
  }
  return columns;
}

/** Mean, covariance of one row, and covariance of the mean over children or sites. */
export interface VectorMoments {
  readonly n: number;
  /** Children. */
  readonly clusters: number;
  /** What the covariance of the mean counts over: children, or effective sites. */
  readonly units: number;
  readonly method: "hotelling" | "hotelling-cluster-robust" | "hotelling-sites";
  readonly mean: readonly number[];
  readonly covariance: readonly (readonly number[])[];
  /** Cluster-robust; S / n where every row is a cluster of its own; with sites by a delete-one-site jackknife. */
  readonly meanCovariance: readonly (readonly number[])[];
}

export function vectorMoments(
  caller: string,
  columns: readonly Float64Array[],
  whose: ClusterColumns,
): VectorMoments {
  const n = columns[0].length;
  const clusters = childrenOf(caller, whose, n);
  const sites = sitesOf(caller, whose, clusters);
  if (clusters.count <= columns.length + 1) {
    throw new InputError(
      `${caller} requires at least ${columns.length + 2} ${hasChildren(whose) ? "subjects" : "rows"}, got ${clusters.count}`,
    );
  }
  const mean = columns.map((column) => column.reduce((sum, value) => sum + value, 0) / n);
  const centred = columns.map((column, j) => column.map((value) => value - mean[j]));
  const scores = centred.map((column) => clusterTotals(column, clusters));
  const inflation = clusters.count / (clusters.count - 1) / (n * n);
  const moments = {
    n,
    clusters: clusters.count,
    mean,
    covariance: crossProducts(centred, 1 / (n - 1)),
  };
  if (sites !== undefined) return { ...moments, ...overSites(caller, centred, sites) };
  return {
    ...moments,
    units: clusters.count,
    method: clusters.count < n ? "hotelling-cluster-robust" : "hotelling",
    meanCovariance: crossProducts(scores, inflation),
  };
}

/** The covariance of the mean by a delete-one-site jackknife, with effective sites as its units. */
function overSites(
  caller: string,
  centred: readonly Float64Array[],
  sites: Clusters,
): Pick<VectorMoments, "units" | "method" | "meanCovariance"> {
  const n = centred[0].length;
  const sizes = clusterTotals(new Float64Array(n).fill(1), sites);
  const units = effectiveSites(Array.from(sizes));
  if (!(units > centred.length + 1)) {
    throw new InputError(
      `${caller} requires sites that count as more than ${centred.length + 1}, got ${sites.count} that count as ${units.toFixed(1)}; give subjects in place of clusters, knowing that differences between sites are then left out`,
    );
  }
  // the mean without a site, about the mean of all
  const leftOut = centred.map((column) =>
    clusterTotals(column, sites).map((total, site) => -total / (n - sizes[site])),
  );
  const about = leftOut.map((column) => {
    const middle = column.reduce((sum, value) => sum + value, 0) / sites.count;
    return column.map((value) => value - middle);
  });
  const factor = (sites.count - 1) / sites.count;
  return { units, method: "hotelling-sites", meanCovariance: crossProducts(about, factor) };
}

function clusterTotals(column: Float64Array, clusters: Clusters): Float64Array {
  const totals = new Float64Array(clusters.count);
  for (let row = 0; row < column.length; row++) totals[clusters.ofRow[row]] += column[row];
  return totals;
}

function crossProducts(columns: readonly Float64Array[], factor: number): number[][] {
  return columns.map((a) =>
    columns.map((b) => factor * a.reduce((sum, value, row) => sum + value * b[row], 0)),
  );
}
