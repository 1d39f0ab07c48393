import type { Cohort } from "../cohort/index.js";
import type { Protocol } from "../protocol/index.js";

export interface Grouping {
  readonly by: "age" | "site";
  /** The group of a child, by its position in `cohort.children`. */
  readonly groupOf: (child: number) => string;
}

/** The groupings that the protocol asks for and the data can answer. */
export function subgroupsOf(cohort: Cohort, protocol: Protocol): Grouping[] {
  return protocol.subgroups.flatMap((subgroup): Grouping[] => {
    if (subgroup.by === "age") {
      return [{ by: "age", groupOf: ageGroup(cohort, subgroup.edgesYears) }];
    }
    const { site } = cohort.children;
    if (site === null) return [];
    return [{ by: "site", groupOf: (child) => site.labels[site.codes[child]] || "not stated" }];
  });
}

/** Completed years, from months where they are known; bands are half-open. */
function ageGroup(cohort: Cohort, edges: readonly number[]): (child: number) => string {
  const { ageMonths, ageYears } = cohort.children;
  return (child) => {
    const years = Number.isNaN(ageMonths[child]) ? ageYears[child] : ageMonths[child] / 12;
    if (Number.isNaN(years)) return "age not stated";
    const above = edges.findIndex((edge) => years < edge);
    if (above === 0) return `below ${edges[0]} years`;
    if (above < 0) return `${edges.at(-1)} years and older`;
    return `${edges[above - 1]} to below ${edges[above]} years`;
  };
}
