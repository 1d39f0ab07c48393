import type { Cohort } from "../../cohort/index.js";
import type { Protocol } from "../../protocol/index.js";
import { didYouMean, InputError } from "../../results/index.js";

interface Grouping {
  /** "age", "site", or the label of a column of the user's own. */
  readonly by: string;
  /** The group of a child, by its position in `cohort.children`. */
  readonly groupOf: (child: number) => string;
  /** For sorting the groups' names: ages ascend, sites stand in the order of their names. */
  readonly order: (one: string, other: string) => number;
  /** Groups that stand there with or without children in them: bands of age. */
  readonly names: readonly string[];
}

/** The groupings that the protocol asks for and the data can answer. */
export function subgroupsOf(
  cohort: Cohort,
  { subgroups }: Protocol,
): (Grouping & { readonly role: "confirmatory" | "exploratory" })[] {
  return subgroups.flatMap((subgroup) => {
    const grouping = groupingOf(cohort, subgroup);
    return grouping === null ? [] : [{ ...grouping, role: subgroup.role }];
  });
}

/**
 * The groups within which children were drawn for the exam; null where the protocol names none.
 *
 * @throws InputError when they are sites and no file names the sites
 */
export function strataOf(cohort: Cohort, { verificationStrata }: Protocol): Grouping | null {
  if (verificationStrata === undefined) return null;
  const grouping = groupingOf(cohort, verificationStrata);
  if (grouping === null) {
    throw new InputError("runStudy requires sites in a file for verificationStrata, got none");
  }
  return grouping;
}

type Groups =
  | { readonly by: "site" }
  | { readonly by: "age"; readonly edgesYears: number[] }
  | { readonly by: "own"; readonly column: string };

function groupingOf(cohort: Cohort, groups: Groups): Grouping | null {
  if (groups.by === "age") return { by: "age", ...ageGroups(cohort, groups.edgesYears) };
  const { site } = cohort.children;
  if (groups.by === "own") return { by: groups.column, ...ownGroups(cohort, groups.column) };
  return (
    site && {
      by: "site",
      groupOf: (child) => site.labels[site.codes[child]] || "not stated",
      order: (one, other) => (one < other ? -1 : Number(one > other)),
      names: [],
    }
  );
}

/** Groups of a column of words; an empty word is a group of its own. */
function ownGroups({ children }: Cohort, label: string): Omit<Grouping, "by"> {
  const own = children.own ?? [];
  const column = own.find((one) => one.label === label);
  if (column?.type !== "words") {
    const words = own.flatMap((one) => (one.type === "words" ? [one.label] : []));
    throw new InputError(
      `runStudy requires own columns of words for subgroups and strata, got "${label}"; ${didYouMean(label, words)}`,
    );
  }
  const { codes, labels } = column.values;
  return {
    groupOf: (child) => labels[codes[child]] || "not stated",
    order: (one, other) => (one < other ? -1 : Number(one > other)),
    names: [],
  };
}

/** Completed years, from months where they are known; bands are half-open. */
function ageGroups(cohort: Cohort, edges: readonly number[]): Omit<Grouping, "by"> {
  const { ageMonths, ageYears } = cohort.children;
  const names = [
    `below ${edges[0]} years`,
    ...edges.slice(1).map((edge, at) => `${edges[at]} to below ${edge} years`),
    `${edges.at(-1)} years and older`,
    "age not stated",
  ];
  return {
    groupOf: (child) => {
      const years = Number.isNaN(ageMonths[child]) ? ageYears[child] : ageMonths[child] / 12;
      if (Number.isNaN(years)) return names[edges.length + 1];
      const above = edges.findIndex((edge) => years < edge);
      return names[above < 0 ? edges.length : above];
    },
    order: (one, other) => names.indexOf(one) - names.indexOf(other),
    names,
  };
}
