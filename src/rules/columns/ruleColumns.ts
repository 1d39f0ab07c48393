import {
  type Coded,
  type Cohort,
  type Eye,
  type Findings,
  measurementStatuses,
  type Readings,
} from "../../cohort/index.js";

/** One eye of many children as columns; NaN is missing, and so is a column that is not there. */
export interface RuleEyeColumns {
  readonly sphere: Float64Array;
  /** Signed, as recorded; either cylinder form. */
  readonly cylinder: Float64Array;
  readonly axis: Float64Array;
  /** Position in the list of measurement statuses; 255 where there is no row. */
  readonly status?: Uint8Array;
  readonly pupilMm?: Float64Array;
  /** Degrees. */
  readonly gazeHorizontal?: Float64Array;
  readonly gazeVertical?: Float64Array;
  readonly acuityLogMAR?: Float64Array;
  /** 1 is yes, 0 is no. */
  readonly strabismus?: Float64Array;
  readonly mediaOpacity?: Float64Array;
  readonly ptosis?: Float64Array;
}

/** Children as columns, ready for a rule. */
export interface RuleColumns {
  readonly kind: "rule-columns";
  readonly n: number;
  /** Completed months; NaN where unknown. */
  readonly ageMonths?: Float64Array;
  /** Whole years, for children whose months are unknown. */
  readonly ageYears?: Float64Array;
  readonly right: RuleEyeColumns;
  readonly left: RuleEyeColumns;
}

/** A status code for an eye without a row. */
export const noRow = 255;

/**
 * The readings, or the findings, of every child of a cohort as columns in the order of
 * `cohort.children`. An eye without a row, or without a measurement, is missing.
 *
 * @param source "reading" or "finding": which side the rule is applied to
 * @example
 * const eye = { subject: "a", eye: "OD", sphere: -1, cylinder: -0.5, axis: 180 };
 * const cohort = linkCohort({ readings: await readReadings([eye]), findings: await readFindings([eye]) });
 * ruleColumns(cohort, "reading").right.sphere[0] // => -1
 */
export function ruleColumns(cohort: Cohort, source: "reading" | "finding"): RuleColumns {
  const { children } = cohort;
  const rows = source === "reading" ? children.readingRow : children.findingRow;
  const side = (eye: Eye) =>
    source === "reading"
      ? readingEye(cohort.readings, rows[eye])
      : findingEye(cohort.findings, rows[eye]);
  return {
    kind: "rule-columns",
    n: children.n,
    ageMonths: children.ageMonths,
    ageYears: children.ageYears,
    right: side("right"),
    left: side("left"),
  };
}

function readingEye(readings: Readings, rows: Int32Array): RuleEyeColumns {
  return {
    ...measured(readings, rows),
    pupilMm: taken(readings.pupilMm, rows),
    gazeHorizontal: taken(readings.gazeHorizontal, rows),
    gazeVertical: taken(readings.gazeVertical, rows),
  };
}

function findingEye(findings: Findings, rows: Int32Array): RuleEyeColumns {
  return {
    ...measured(findings, rows),
    acuityLogMAR: taken(findings.acuityLogMAR, rows),
    strabismus: yesOrNo(findings.strabismus, rows),
    mediaOpacity: yesOrNo(findings.mediaOpacity, rows),
    ptosis: yesOrNo(findings.ptosis, rows),
  };
}

function measured(source: Readings | Findings, rows: Int32Array) {
  const { codes, labels } = source.status;
  const positions = labels.map((label) => measurementStatuses.indexOf(label));
  return {
    sphere: taken(source.sphere, rows)!,
    cylinder: taken(source.cylinder, rows)!,
    axis: taken(source.axis, rows)!,
    status: Uint8Array.from(rows, (row) => (row < 0 ? noRow : positions[codes[row]])),
  };
}

function taken(column: Float64Array | null, rows: Int32Array): Float64Array | undefined {
  if (column === null) return undefined;
  const values = new Float64Array(rows.length);
  for (let child = 0; child < rows.length; child++) {
    const row = rows[child];
    values[child] = row < 0 ? Number.NaN : column[row];
  }
  return values;
}

function yesOrNo(
  column: Coded<"no" | "yes" | "unknown"> | null | undefined,
  rows: Int32Array,
): Float64Array | undefined {
  if (column === null || column === undefined) return undefined;
  const meaning = column.labels.map((label) =>
    label === "yes" ? 1 : label === "no" ? 0 : Number.NaN,
  );
  return Float64Array.from(rows, (row) => (row < 0 ? Number.NaN : meaning[column.codes[row]]));
}
