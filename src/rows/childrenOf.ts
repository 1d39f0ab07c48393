import { type ForAudience, InputError } from "../results/index.js";
import { type Clusters, clustersOf, type Labels } from "./clusters.js";
import { takeRows } from "./columns.js";

/** Whose rows they are: at most one of `subjects` and `clusters`. */
export interface ClusterColumns extends ForAudience {
  /** The child of each row. Left out, rows are taken as independent. */
  readonly subjects?: Labels;
  /** The child and the site above it (school, district) of each row, in place of `subjects`. */
  readonly clusters?: { readonly subject: Labels; readonly site: Labels };
}

/** The same with `units`, which are eyes within a child. */
export interface ChildColumns extends ClusterColumns {
  /** The eye of each row, read within its child: rows that share both are repeats. */
  readonly units?: Labels;
}

/**
 * The child of each row: by `subjects`, or by `clusters.subject`; where only `units` are given, they
 * are all that is known of who belongs together, so that they stand for children. Without any of them
 * every row is a child of its own.
 *
 * @throws InputError when both `subjects` and `clusters` are given
 */
export function childrenOf(caller: string, columns: ChildColumns, rows: number): Clusters {
  const { subjects, units, clusters } = columns;
  if (clusters === undefined) {
    const name = subjects === undefined && units !== undefined ? "units" : "subjects";
    return clustersOf(caller, subjects ?? units, rows, name);
  }
  if (subjects !== undefined) {
    throw new InputError(
      `${caller} requires subjects or clusters, got both; write the children into clusters.subject`,
    );
  }
  return clustersOf(caller, clusters.subject, rows, "clusters.subject");
}

/**
 * The site of each row, undefined where none is given.
 *
 * @throws InputError naming the row, when a child is in two sites: then sites are not above children
 */
export function sitesOf(
  caller: string,
  columns: ClusterColumns,
  children: Clusters,
): Clusters | undefined {
  if (columns.clusters === undefined) return undefined;
  const rows = children.ofRow.length;
  const sites = clustersOf(caller, columns.clusters.site, rows, "clusters.site");
  const siteOfChild = new Int32Array(children.count).fill(-1);
  for (let row = 0; row < rows; row++) {
    const child = children.ofRow[row];
    if (siteOfChild[child] >= 0 && siteOfChild[child] !== sites.ofRow[row]) {
      throw new InputError(
        `${caller} requires each child in one site, got a child of row ${row} in two; give the child the site where it was screened`,
      );
    }
    siteOfChild[child] = sites.ofRow[row];
  }
  return sites;
}

/**
 * Refuses sites where an analysis cannot respect them, also where its types do not know the key: a
 * caller without types would else get intervals that ignore them.
 *
 * @param instead what to do, from "use" on
 */
export function requireNoSites(
  caller: string,
  columns: object | undefined,
  instead = "use siteJackknife with it, or leave the sites out knowingly",
): void {
  if ((columns as ClusterColumns | undefined)?.clusters !== undefined) {
    throw new InputError(
      `${caller} requires subjects, got clusters with sites, which it cannot respect; ${instead}`,
    );
  }
}

/** Children and sites of some rows, in the order of their numbers given. */
export function takeClusters(
  { subjects, clusters }: ClusterColumns,
  rows: ArrayLike<number>,
): ClusterColumns {
  return {
    ...(subjects && { subjects: takeRows(subjects, rows) }),
    ...(clusters && {
      clusters: { subject: takeRows(clusters.subject, rows), site: takeRows(clusters.site, rows) },
    }),
  };
}

/** Whether rows are told apart at all: by `subjects` or by `clusters`. */
export const hasChildren = ({ subjects, clusters }: ClusterColumns): boolean =>
  subjects !== undefined || clusters !== undefined;
