import { InputError } from "../../results/index.js";
import type { Cohort } from "../types.js";

/** Some children, by their numbers. */
export interface Group {
  readonly label: string;
  readonly members: readonly number[];
}

/** All children, and the groups that a baseline table compares. */
export function groupsOf(cohort: Cohort, by: "verification" | "site" | undefined) {
  const { n, verification, site } = cohort.children;
  const all = Array.from({ length: n }, (_, child) => child);
  const groups: Group[] = [{ label: "All", members: all }];
  if (by === "verification") {
    const examined = (child: number) =>
      verification.labels[verification.codes[child]] === "examined";
    const screened = all.filter(
      (child) => verification.labels[verification.codes[child]] !== "not-screened",
    );
    groups.push(
      { label: "Examined", members: screened.filter(examined) },
      { label: "Not examined", members: screened.filter((child) => !examined(child)) },
    );
  }
  if (by === "site") {
    if (site === null) throw new InputError("describeCohort requires sites in a file, got none");
    site.labels.forEach((label, code) => {
      groups.push({
        label: label || "unknown",
        members: all.filter((c) => site.codes[c] === code),
      });
    });
  }
  return groups;
}
