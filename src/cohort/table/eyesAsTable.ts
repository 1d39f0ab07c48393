import type { CellFormat, TableModel } from "../../results/index.js";
import type { OwnValues } from "../link/ownValues.js";
import type { CohortTable, EyeTableColumns } from "./cohortTable.js";
import { isMissing } from "./eyeRows.js";

/**
 * A table of eyes for `toCsv`, `toWord`, `toWorkbook` and `toFrame`: one row an eye, numbers unrounded, missing
 * cells empty; own columns behind the others as "reading: label" and "finding: label". Such a file is for
 * your own machine: it holds a row a child, whatever the audience.
 *
 * @param options `columns` that are wanted, in this order; all by default, own ones with them
 * @example
 * const eye = { subject: "a", eye: "OD", sphere: -1, cylinder: -0.5, axis: 180 };
 * const cohort = linkCohort({ readings: await readReadings([eye]), findings: await readFindings([eye]) });
 * toCsv(eyesAsTable(cohortTable(cohort), { columns: ["eye", "readingM"] })) // => "eye,readingM\nright,-1.25\n"
 */
export function eyesAsTable(
  { n, columns, own }: CohortTable,
  options: { readonly columns?: readonly (keyof EyeTableColumns)[]; readonly title?: string } = {},
): TableModel {
  const { title = `${n} eyes` } = options;
  const ownColumns = (["reading", "finding"] as const).flatMap((side) =>
    Object.entries(own[side]).map(([label, values]): [string, OwnValues] => [
      `${side}: ${label}`,
      values,
    ]),
  );
  const named: readonly [string, OwnValues][] = options.columns
    ? options.columns.map((name) => [name, columns[name]])
    : [...Object.entries(columns as unknown as Record<string, OwnValues>), ...ownColumns];
  return {
    kind: "table",
    title,
    columns: named.map(([label]) => ({ label, format: formatOf(label) })),
    rows: Array.from({ length: n }, (_, row) => ({
      cells: named.map(([, values]) => (isMissing(values[row]!) ? null : values[row]!)),
    })),
    notes: [],
  };
}

/** Dioptres but for ages, axes, words and own columns. */
function formatOf(label: string): CellFormat {
  if (label.includes(":")) return "number";
  if (/^age|Axis$/.test(label)) return "count";
  return /^(reading|finding|difference)(Sphere|Cylinder|M|J0|J45)$/.test(label)
    ? "dioptres"
    : "text";
}
