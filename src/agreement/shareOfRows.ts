import { clusteredShare, siteShare } from "../inference/index.js";
import type { Estimate, Undefined } from "../results/index.js";
import { type ChildColumns, childrenOf, countByCluster, sitesOf } from "../rows/index.js";

/** The share of rows of which something holds, its interval over children, or over sites above them. */
export function shareOfRows(
  caller: string,
  whose: ChildColumns,
  rows: number,
  level: number,
): (holds: (row: number) => boolean) => Estimate | Undefined {
  const children = childrenOf(caller, whose, rows);
  const sites = sitesOf(caller, whose, children);
  return (holds) =>
    sites
      ? siteShare(countByCluster(sites, holds), level)
      : clusteredShare(countByCluster(children, holds), level);
}
