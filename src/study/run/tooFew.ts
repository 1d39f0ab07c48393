import { effectiveSites } from "../../inference/index.js";
import type { ClusterColumns } from "../../rows/index.js";

/** Why these rows are too few for limits of agreement and their intervals; null where they are enough. */
export function tooFew(whose: ClusterColumns): "children" | "sites" | null {
  const subjects = Array.from(whose.clusters?.subject ?? whose.subjects ?? []);
  if (new Set(subjects).size < 3) return "children";
  if (whose.clusters === undefined) return null;
  const sizes = new Map<unknown, number>();
  for (const site of Array.from(whose.clusters.site)) sizes.set(site, (sizes.get(site) ?? 0) + 1);
  const rows = [...sizes.values()];
  // limits without one site need two rows
  const isEnough = effectiveSites(rows) >= 2 && rows.every((size) => subjects.length - size > 1);
  return isEnough ? null : "sites";
}
