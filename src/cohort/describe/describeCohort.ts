import { quantileSorted } from "simple-statistics";
import { sortNumbers } from "../../inference/index.js";
import {
  type TableCell,
  type TableModel,
  type TableRow,
  undefinedBecause,
} from "../../results/index.js";
import { counted } from "../../rows/index.js";
import { equivalentAt } from "../link/eyeQuantity.js";
import { type Cohort, eyeOutcomes } from "../types.js";
import {
  type BaselineGroups,
  type Group,
  groupsOf,
  ownColumnOf,
  sortedWords,
} from "./baselineGroups.js";
import { ageOf, type ChildValue, daysToExam, ofRightEye } from "./baselineValues.js";
import { spreadOf, spreadOfShare, standardised } from "./standardisedDifference.js";

/** A group of refraction by the reading's M, from (included) to (left out), in dioptres. */
export interface RefractiveGroup {
  readonly label: string;
  readonly from: number;
  readonly to: number;
}

export interface DescribeOptions {
  /** Columns of the table: all children (default), or all and each of the groups; `{ own: "sex" }` by a column of one's own. */
  readonly by?: BaselineGroups;
  /** Own columns that are described, by their labels in the mapping; none by default. */
  readonly own?: readonly string[];
  /** Groups of right eyes' M; own groups, no published categories. */
  readonly refraction?: readonly RefractiveGroup[];
}

/** Right eyes by M of the reading; an own grouping, for description only. */
const defaultGroups: readonly RefractiveGroup[] = [
  { label: "M below -3.00 D", from: Number.NEGATIVE_INFINITY, to: -3 },
  { label: "M -3.00 to below -0.50 D", from: -3, to: -0.5 },
  { label: "M -0.50 to below +1.00 D", from: -0.5, to: 1 },
  { label: "M +1.00 D and above", from: 1, to: Number.POSITIVE_INFINITY },
];

/**
 * The baseline table: age, site, refraction, status of the reading and confidence of right eyes (one
 * eye a child), overall and by group; days from screening to exam. By verification it adds the
 * standardised difference of examined and not examined children (difference of means or of
 * proportions over the root of the mean of both variances): that is where verification bias starts.
 *
 * Own columns are shown where `own` names them: of words each word's children and share, of numbers mean,
 * SD and how many are not known. A child's value is that of its first reading that is filled, else of its first
 * finding. Counts are exact; the table is not for the public, as its parts share sums.
 *
 * @throws InputError for sites where no file names them, for own columns that no mapping names, and for
 *   groups by numbers
 * @example
 * const eye = { subject: "a", eye: "OD", sphere: -1, cylinder: 0, axis: 0 };
 * const cohort = linkCohort({ readings: await readReadings([eye]), findings: await readFindings([eye]) });
 * describeCohort(cohort).rows[0].cells // => ["Children", 1]
 */
export function describeCohort(cohort: Cohort, options: DescribeOptions = {}): TableModel {
  const { by, refraction = defaultGroups, own = [] } = options;
  const groups = groupsOf(cohort, by);
  const compare = by === "verification";
  const columns = groups.map(({ label }) => ({ label, format: "number" as const }));
  const rows: TableRow[] = [row("Children", "count", ({ members }) => members.length, null)];
  // one for all lists: a new one for each would keep the memory's sweeper busy
  const scratch = new Float64Array(cohort.children.n);
  addNumbers("Age, years", ageOf(cohort), "ratio");
  const source = cohort.choices?.readingEquivalent ?? "computed";
  const M = ofRightEye(cohort, equivalentAt(cohort.readings, source));
  addNumbers("M of the reading, right eye, D", M, "dioptres");
  const { confidenceScore } = cohort.readings;
  if (confidenceScore !== null) {
    const score = ofRightEye(cohort, (row) => confidenceScore[row]);
    addNumbers("Confidence, right eye", score, "ratio");
  }
  for (const { label, from, to } of refraction) {
    addShare(label, (child) => {
      const value = M(child);
      return value >= from && value < to;
    });
  }
  const { status } = cohort.readings;
  const right = cohort.children.readingRow.right;
  addShares(
    status.labels.map((label) => `Right eye ${label}`),
    (child) => (right[child] < 0 ? -1 : status.codes[right[child]]),
  );
  const examOnly = examOnlyOf(cohort);
  addShare("No reading of the right eye", (child) => right[child] < 0 && !examOnly(child));
  if (groups[0].members.some(examOnly)) {
    addShare("In the exam file only: no reading has that number", examOnly);
  }
  const { site } = cohort.children;
  if (site !== null && by !== "site") {
    addShares(
      site.labels.map((label) => (/^site\b/i.test(label) ? label : `Site ${label || "unknown"}`)),
      (child) => site.codes[child],
    );
  }
  const groupedBy = typeof by === "object" ? by.own : null;
  for (const label of new Set(own)) {
    const column = ownColumnOf(cohort, label);
    if (column.type === "number") {
      addNumbers(label, (child) => column.values[child], "ratio", true);
    } else if (label !== groupedBy) {
      const { codes } = column.values;
      const words = sortedWords(column);
      const placeOf = new Int32Array(words.length);
      for (const [place, { code }] of words.entries()) placeOf[code] = place;
      addShares(
        words.map(({ word }) => `${label}: ${word || "not stated"}`),
        (child) =>
          words[placeOf[codes[child]]].word === "" && examOnly(child) ? -1 : placeOf[codes[child]],
      );
    }
  }
  const days = daysToExam(cohort);
  if (days !== null) {
    const sorted = groups.map((group) => sortNumbers(knownIn(group, days, scratch).slice()));
    const known = sorted.map((list) => list.length);
    const quantile = (label: string, share: number) => {
      const at = (_: Group, index: number) =>
        sorted[index].length === 0
          ? undefinedBecause("nobody was examined")
          : quantileSorted(sorted[index] as never, share);
      rows.push(madeOf(known, row(label, "number", at, null)));
    };
    quantile("Days from screening to exam, of all with an exam, median", 0.5);
    quantile("  first quartile", 0.25);
    quantile("  third quartile", 0.75);
    quantile("  longest", 1);
  }
  return {
    kind: "table",
    title: "Children at baseline",
    columns: [
      { label: "", format: "text" },
      ...columns,
      ...(compare
        ? [{ label: "Standardised difference", format: "ratio", keepsFormat: true } as const]
        : []),
    ],
    rows,
    notes: [
      "Right eyes, one a child. Shares, in brackets behind the counts, are of all children in the column.",
      ...(compare
        ? [
            "Standardised difference: examined minus not examined, over the root of the mean variance.",
          ]
        : []),
    ],
  };

  function row(
    label: string,
    format: TableRow["format"],
    cellOf: (group: Group, index: number) => TableCell,
    difference: number | null,
  ): TableRow {
    const cells = [label, ...groups.map(cellOf)];
    return { cells: compare ? [...cells, difference] : cells, format };
  }

  /** A row with how many values each group's cell is made of. */
  function madeOf(values: readonly number[], made: TableRow): TableRow {
    return { ...made, behind: [null, ...values, ...(compare ? [null] : [])] };
  }

  /** @param always whether rows without a value stand there, too: what was asked for by its name */
  function addNumbers(
    label: string,
    numberOf: ChildValue,
    format: TableRow["format"],
    always = false,
  ): void {
    const spreads = groups.map((group) => spreadOf(knownIn(group, numberOf, scratch)));
    if (spreads[0].n === 0 && !always) return;
    const summary = (of: "mean" | "deviation", least: number) => (_: Group, index: number) => {
      const { n, [of]: value } = spreads[index];
      return n < least ? undefinedBecause(`${counted(n, "value")} known`) : value;
    };
    const [examined, others] = spreads.slice(1);
    const difference = compare ? standardised(examined, others) : null;
    const known = spreads.map(({ n }) => n);
    const add = (made: TableRow) => rows.push(madeOf(known, made));
    add(row(`${label}, mean`, format, summary("mean", 1), difference));
    add(row("  standard deviation", format, summary("deviation", 2), null));
    const unknown = ({ members }: Group, index: number) => members.length - spreads[index].n;
    add(row("  not known", "count", unknown, null));
  }

  function addShare(label: string, has: (child: number) => boolean): void {
    addShares([label], (child) => (has(child) ? 0 : -1));
  }

  /** Shares of children by a code, -1 for those of none, counted in one pass. */
  function addShares(labels: readonly string[], codeOf: (child: number) => number): void {
    const counts = groups.map(({ members }) => {
      const of = new Uint32Array(labels.length);
      for (let k = 0; k < members.length; k++) {
        const code = codeOf(members[k]);
        if (code >= 0) of[code]++;
      }
      return of;
    });
    for (const [code, label] of labels.entries()) {
      addCounts(
        label,
        counts.map((of) => of[code]),
      );
    }
  }

  function addCounts(label: string, counts: readonly number[]): void {
    const [examined, others] = groups
      .slice(1)
      .map(({ members }, index) => spreadOfShare(counts[index + 1], members.length));
    const difference = compare ? standardised(examined, others) : null;
    rows.push(row(label, "count", (_, index) => counts[index], difference));
    const share = ({ members: { length } }: Group, index: number): TableCell =>
      length === 0 ? undefinedBecause("no children") : counts[index] / length;
    const sizes = groups.map(({ members }) => members.length);
    rows.push({ ...madeOf(sizes, row("  share", "percent", share, null)), shareOfAbove: true });
  }
}

/** Who is in the exam file alone: no screened child, and in a line of its own. */
function examOnlyOf({ children: { outcome } }: Cohort): (child: number) => boolean {
  const code = eyeOutcomes.indexOf("exam-only");
  return (child) => outcome?.right[child] === code || outcome?.left[child] === code;
}

/** The values of a group's children that are known, written to a list of at least their number. */
function knownIn({ members }: Group, numberOf: ChildValue, list: Float64Array): Float64Array {
  let n = 0;
  for (let k = 0; k < members.length; k++) {
    const value = numberOf(members[k]);
    if (!Number.isNaN(value)) list[n++] = value;
  }
  return list.subarray(0, n);
}
