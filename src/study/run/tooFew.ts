import { effectiveSites } from "../../inference/index.js";
import type { ClusterColumns } from "../../rows/index.js";

/** Why these rows are too few for limits of agreement and their intervals; null where they are enough. */
export function tooFew(whose: ClusterColumns): "children" | "sites" | null {
  const subjects = Array.from(whose.clusters?.subject ?? whose.subjects ?? []);
  if (new Set(subjects).size < 3) return "children";
  const rows = siteSizes(whose);
  if (rows === null) return null;
  // limits without one site need two rows
  const isEnough = effectiveSites(rows) >= 2 && rows.every((size) => subjects.length - size > 1);
  return isEnough ? null : "sites";
}

/** Whether rows are without sites, or these count as more than 4: an ellipse of their mean needs as many. */
export function enoughForEllipse(whose: ClusterColumns): boolean {
  const rows = siteSizes(whose);
  return rows === null || effectiveSites(rows) > 4;
}

/** Rows of each site, null where none are named. */
function siteSizes({ clusters }: ClusterColumns): number[] | null {
  if (clusters === undefined) return null;
  const sizes = new Map<unknown, number>();
  for (const site of Array.from(clusters.site)) sizes.set(site, (sizes.get(site) ?? 0) + 1);
  return [...sizes.values()];
}
