import type { Cohort } from "../../cohort/index.js";
import type { Protocol } from "../../protocol/index.js";
import { InputError } from "../../results/index.js";
import type { ClusterColumns } from "../../rows/index.js";

/**
 * Whose rows they are: children, and the sites above them where the protocol's `clusters` says "site".
 * Children of no stated site are one site of their own.
 *
 * @param subjects position of each row's child in `cohort.children`
 * @throws InputError when the protocol wants sites and no file names them
 */
export function whoseRows(
  { children: { site } }: Cohort,
  { clusters }: Pick<Protocol, "clusters">,
  subjects: ArrayLike<number>,
): ClusterColumns {
  if (clusters !== "site") return { subjects };
  if (site === null) {
    throw new InputError(
      'runStudy requires sites in a file for clusters "site", got none; name their column in the mapping, or leave clusters out',
    );
  }
  const siteOf = (child: number) => site.labels[site.codes[child]] || "not stated";
  return { clusters: { subject: subjects, site: Array.from(subjects, siteOf) } };
}
