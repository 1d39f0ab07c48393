import { didYouMean, InputError } from "../../results/index.js";
import type { Cohort, OwnColumn } from "../types.js";

/** What makes the columns of a baseline table, beside all children. */
export type BaselineGroups = "verification" | "site" | { readonly own: string };

/** Some children, by their numbers. */
export interface Group {
  readonly label: string;
  readonly members: Int32Array;
}

/** All children, and the groups that a baseline table compares. */
export function groupsOf(cohort: Cohort, by: BaselineGroups | undefined) {
  const { n, verification, site } = cohort.children;
  const groups: Group[] = [{ label: "All", members: childrenWhere(n, () => true) }];
  if (by === "verification") {
    const { codes, labels } = verification;
    const [examined, notScreened] = (["examined", "not-screened"] as const).map((label) =>
      labels.indexOf(label),
    );
    groups.push(
      { label: "Examined", members: childrenWhere(n, (child) => codes[child] === examined) },
      {
        label: "Not examined",
        members: childrenWhere(
          n,
          (child) => codes[child] !== examined && codes[child] !== notScreened,
        ),
      },
    );
  }
  if (by === "site") {
    if (site === null) throw new InputError("describeCohort requires sites in a file, got none");
    site.labels.forEach((label, code) => {
      groups.push({
        label: label || "unknown",
        members: childrenWhere(n, (child) => site.codes[child] === code),
      });
    });
  }
  if (typeof by === "object") {
    const column = ownColumnOf(cohort, by.own);
    if (column.type !== "words") {
      throw new InputError(
        `describeCohort requires an own column of words for groups, got "${by.own}", which holds numbers; name it in own, or say "type": "words" in the mapping`,
      );
    }
    for (const { word, code } of sortedWords(column)) {
      const members = childrenWhere(n, (child) => column.values.codes[child] === code);
      if (word !== "" || members.length > 0) {
        groups.push({ label: word || "not stated", members });
      }
    }
  }
  return groups;
}

function childrenWhere(n: number, isMember: (child: number) => boolean): Int32Array {
  const members = new Int32Array(n);
  let found = 0;
  for (let child = 0; child < n; child++) if (isMember(child)) members[found++] = child;
  return members.subarray(0, found);
}

/** A column of the user's own, by child. */
export function ownColumnOf({ children }: Cohort, label: string): OwnColumn {
  const own = children.own ?? [];
  const column = own.find((one) => one.label === label);
  if (column !== undefined) return column;
  throw new InputError(
    `describeCohort requires own columns that a mapping names under own, got "${label}"; ${didYouMean(
      label,
      own.map((one) => one.label),
    )}`,
  );
}

/** The words of an own column as they sort, each with its code; "", what is not stated, is last. */
export function sortedWords({
  values,
}: Extract<OwnColumn, { type: "words" }>): { word: string; code: number }[] {
  return values.labels
    .map((word, code) => ({ word, code }))
    .sort(({ word: one }, { word: other }) => {
      if (one === "" || other === "") return Number(one === "") - Number(other === "");
      return one < other ? -1 : 1;
    });
}
