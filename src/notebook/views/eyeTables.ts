import {
  type CohortTable,
  type EyeCounts,
  type EyeSummary,
  eyesAsTable,
  filterEyes,
} from "../../cohort/index.js";
import { suppressSmallCells } from "../../privacy/index.js";
import { shownTo, type TableModel, type TableRow } from "../../results/index.js";

const mostRows = 10;
const shownColumns = ["eye", "ageYears", "outcome", "readingM", "findingM", "differenceM"] as const;

/** The first ten eyes, without their child; for the public none. */
export function firstEyes(table: CohortTable): TableModel {
  const isPublic = shownTo(undefined, table) === "public";
  let left = isPublic ? 0 : mostRows;
  const first = filterEyes(table, () => left-- > 0);
  const notShown = table.n - first.n;
  return {
    ...eyesAsTable(first, { columns: shownColumns, title: `${table.n} rows, one an eye` }),
    notes: [
      ...(notShown > 0 ? [`${notShown} ${isPublic ? "" : "more "}rows are not shown`] : []),
      "reading minus finding, in dioptres; further columns are in table.columns",
    ],
  };
}

/** Groups with their counts; for the public without small ones. */
export function countsTable(counts: EyeCounts): TableModel {
  return forReaders(counts, {
    kind: "table",
    title: `Eyes by ${counts.by.join(", ")}`,
    columns: [
      ...counts.by.map((label) => ({ label, format: "text" as const })),
      { label: "eyes", format: "count" },
      { label: "children", format: "count" },
    ],
    rows: counts.groups.map(({ group, eyes, children }) => ({
      cells: [...namesOf(group), eyes, children],
    })),
    notes: [],
  });
}

/** Groups with their description; without least and greatest, each the value of one child; for the public without small groups. */
export function summaryTable(summary: EyeSummary): TableModel {
  const { groups, of } = summary;
  const numbers = ["mean", "sd", "median", "lowerQuartile", "upperQuartile"] as const;
  const words = { lowerQuartile: "lower quartile", upperQuartile: "upper quartile", sd: "SD" };
  const labels = Object.keys(groups[0]?.group ?? {});
  return forReaders(summary, {
    kind: "table",
    title: labels.length === 0 ? of : `${of} by ${labels.join(", ")}`,
    columns: [
      ...labels.map((label) => ({ label, format: "text" as const })),
      { label: "eyes", format: "count" },
      { label: "children", format: "count" },
      { label: "missing", format: "count" },
      ...numbers.map((name) => ({
        label: words[name as keyof typeof words] ?? name,
        format:
          of.startsWith("age") || of === "value" ? ("number" as const) : ("dioptres" as const),
      })),
    ],
    rows: groups.map(
      ({ group, eyes, children, missing, ...described }): TableRow => ({
        cells: [
          ...namesOf(group),
          eyes,
          children,
          missing,
          ...numbers.map((name) => described[name]),
        ],
      }),
    ),
    notes: [],
  });
}

const namesOf = (group: Readonly<Record<string, string | number | null>>) =>
  Object.values(group).map((value) => (value === null ? "missing" : String(value)));

function forReaders(result: EyeCounts | EyeSummary, table: TableModel): TableModel {
  if (shownTo(undefined, result) !== "public") return table;
  const shown = suppressSmallCells(table, { sums: "columns" });
  return {
    ...shown,
    notes: [...shown.notes, "counts of 1 to 10, and what would give them back, are not shown"],
  };
}
