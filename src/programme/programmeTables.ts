import type { Audience } from "../privacy/index.js";
import { caution, shownTo, type TableModel, type TableRow } from "../results/index.js";
import type {
  ProgrammeDescription,
  ProgrammeGroup,
  ProgrammeGrouping,
} from "./describeProgramme.js";
import type { ProgrammeMeasure } from "./programmeMeasures.js";
import { shownMeasures } from "./shownMeasures.js";

/**
 * A programme's figures as tables: all children, then one table a grouping, a block a figure, with the
 * test that all groups share one value. The public (default) sees no figure behind which a count is
 * below 11; a note names what is left out.
 *
 * @param description from `describeProgramme`
 * @param options `audience`; `title` of the first table
 *
 * @example
 * programmeTables(describeProgramme({ decision: ["refer", "pass"], condition: [true, null], reason: ["referred", "not-examined"] }), { audience: "journal" })[0].title // => "The programme in figures"
 */
export function programmeTables(
  description: ProgrammeDescription,
  options: { readonly audience?: Audience; readonly title?: string } = {},
): readonly TableModel[] {
  const { title = "The programme in figures" } = options;
  const audience = shownTo(options.audience, description);
  const { overall, groupings, notes } = description;
  const shown = shownMeasures([overall], audience);
  return [
    {
      kind: "table",
      title,
      columns: columns("Figure"),
      rows: overall.measures
        .filter(({ id }) => shown.has(id))
        .flatMap((measure) => [measureRow(measure.words, measure), ...quartiles(measure, overall)]),
      notes: [...notes, ...leftOut(overall, shown), caution],
    },
    ...groupings.map((grouping) => groupingTable(grouping, audience, title)),
  ];
}

function groupingTable(
  { by, groups, sameInAll }: ProgrammeGrouping,
  audience: Audience,
  title: string,
): TableModel {
  const shown = shownMeasures(groups, audience);
  const rows = groups[0].measures.flatMap(({ id, words }, at): TableRow[] => {
    const known = groups.some(({ measures }) => hasLimit(measures[at]));
    if (!shown.has(id) || !known) return [];
    const test = sameInAll.find((one) => one.id === id)?.test;
    return [
      {
        cells: [words, null, null, null, test?.kind === "homogeneity" ? test.p : null],
        heading: true,
      },
      ...groups.map(({ group, measures }) => withoutP(measureRow(group, measures[at]))),
    ];
  });
  return {
    kind: "table",
    title: `${title}, by ${by}`,
    columns: [...columns(by), { label: "p, one value for all", format: "p", keepsFormat: true }],
    rows,
    notes: [
      "p: Pearson's chi-square of one value for all groups. Many tests: one in twenty falls below .05 by chance.",
      ...leftOut(groups[0], shown),
    ],
  };
}

const columns = (first: string): TableModel["columns"] => [
  { label: first.charAt(0).toUpperCase() + first.slice(1), format: "text" },
  { label: "Children", format: "count", keepsFormat: true },
  { label: "Of", format: "count", keepsFormat: true },
  { label: "Value", format: "number" },
];

function measureRow(label: string, { counted, of, estimate, unit }: ProgrammeMeasure): TableRow {
  return {
    cells: [label, counted, of, estimate],
    format: unit === "share" ? "percent" : "number",
  };
}

const hasLimit = ({ estimate }: ProgrammeMeasure): boolean =>
  estimate.low !== undefined || estimate.high !== undefined;

const withoutP = (row: TableRow): TableRow => ({ ...row, cells: [...row.cells, null] });

function quartiles({ id }: ProgrammeMeasure, { dayQuartiles }: ProgrammeGroup): TableRow[] {
  if (id !== "daysToExam" || dayQuartiles === null) return [];
  const [lower, , upper] = dayQuartiles;
  return [
    {
      cells: [
        "Days from screening to exam, of the referred who came, quartiles",
        null,
        null,
        `${lower} to ${upper}`,
      ],
      format: "text",
    },
  ];
}

function leftOut({ measures }: ProgrammeGroup, shown: ReadonlySet<string>): string[] {
  const out = measures.filter(({ id }) => !shown.has(id)).map(({ words }) => words);
  return out.length === 0
    ? []
    : [`Not shown, as a count behind it is below 11: ${out.join("; ")}.`];
}
