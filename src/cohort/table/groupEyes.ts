import { type ForAudience, InputError, jointAudience } from "../../results/index.js";
import { compareValues, requireOneType } from "./chooseEyes.js";
import type { CohortTable, EyeTableColumns } from "./cohortTable.js";
import { atEyes, type EyeValue, isMissing, valuesOf } from "./eyeRows.js";

/** A column, several, or by a label of one's own a column or what is worked out of a row. */
export type EyeGrouping =
  | keyof EyeTableColumns
  | readonly (keyof EyeTableColumns)[]
  | { readonly [label: string]: EyeValue };

/** The eyes of one group. */
export interface EyeGroup {
  /** What makes the group, by label; null is missing. */
  readonly group: Readonly<Record<string, string | number | null>>;
  readonly table: CohortTable;
}

/** How many eyes each group has. */
export interface EyeCounts extends ForAudience {
  readonly kind: "eye-counts";
  readonly by: readonly string[];
  readonly n: number;
  readonly children: number;
  readonly groups: readonly {
    readonly group: EyeGroup["group"];
    readonly eyes: number;
    /** A child with eyes in two groups counts in both. */
    readonly children: number;
  }[];
}

/**
 * The eyes of each group, as a table of its own. Groups are in ascending order, missing values last.
 *
 * @param by a column, a list of columns, or an object of labels: `{ "age band": (row) => row.ageYears < 10 ? "under 10" : "10 and over" }`
 * @throws InputError for an empty list, or a group of words and numbers mixed
 * @example
 * const eyes = ["OD", "OS"].map((eye, at) => ({ subject: "a", eye, sphere: -at, cylinder: 0, axis: 0 }));
 * const cohort = linkCohort({ readings: await readReadings(eyes), findings: await readFindings(eyes) });
 * groupEyes(cohortTable(cohort), "eye").map(({ group }) => group) // => [{ eye: "left" }, { eye: "right" }]
 */
export function groupEyes(table: CohortTable, by: EyeGrouping): EyeGroup[] {
  const columns = groupingColumns(by).map(([label, wanted]) => {
    const values = valuesOf("groupEyes", table, wanted);
    requireOneType("groupEyes", values);
    return { label, values };
  });
  const rowsOf = new Map<string, number[]>();
  for (let row = 0; row < table.n; row++) {
    const key = JSON.stringify(columns.map(({ values }) => groupValue(values[row]!)));
    const rows = rowsOf.get(key);
    if (rows === undefined) rowsOf.set(key, [row]);
    else rows.push(row);
  }
  return [...rowsOf]
    .map(([key, rows]) => ({ key: JSON.parse(key) as (string | number | null)[], rows }))
    .sort((one, other) => compareKeys(one.key, other.key))
    .map(({ key, rows }) => ({
      group: Object.fromEntries(columns.map(({ label }, at) => [label, key[at]!])),
      table: atEyes(table, rows),
    }));
}

/**
 * How many eyes, and children, each group has. Counts are exact; `show` takes small ones out for the public.
 *
 * @param by as for `groupEyes`
 * @throws InputError as `groupEyes` does
 * @example
 * const eyes = ["OD", "OS"].map((eye, at) => ({ subject: "a", eye, sphere: -at, cylinder: 0, axis: 0 }));
 * const cohort = linkCohort({ readings: await readReadings(eyes), findings: await readFindings(eyes) });
 * countEyes(cohortTable(cohort), "outcome").groups // => [{ group: { outcome: "paired" }, eyes: 2, children: 1 }]
 */
export function countEyes(table: CohortTable, by: EyeGrouping): EyeCounts {
  return {
    kind: "eye-counts",
    ...jointAudience(table),
    by: groupingColumns(by).map(([label]) => label),
    n: table.n,
    children: table.children,
    groups: groupEyes(table, by).map(({ group, table: { n, children } }) => ({
      group,
      eyes: n,
      children,
    })),
  };
}

/** Labels and what makes them. */
export function groupingColumns(by: EyeGrouping): [label: string, wanted: EyeValue][] {
  const columns: [string, EyeValue][] =
    typeof by === "string"
      ? [[by, by]]
      : Array.isArray(by)
        ? (by as readonly (keyof EyeTableColumns)[]).map((name) => [name, name])
        : Object.entries(by as { readonly [label: string]: EyeValue });
  if (columns.length > 0) return columns;
  throw new InputError("groupEyes requires a column to group by, got none");
}

const groupValue = (value: string | number) => (isMissing(value) ? null : value);

function compareKeys(
  one: readonly (string | number | null)[],
  other: readonly (string | number | null)[],
): number {
  for (const [at, value] of one.entries()) {
    const against = other[at]!;
    if (value === against) continue;
    if (value === null || against === null) return value === null ? 1 : -1;
    return compareValues(value, against);
  }
  return 0;
}
