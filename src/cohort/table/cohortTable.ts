import { toPowerVectors } from "../../refraction/index.js";
import { type ForAudience, InputError, jointAudience } from "../../results/index.js";
import { withoutNoise } from "../../rows/index.js";
import { unknownEye } from "../link/flow.js";
import { atRows, type OwnValues } from "../link/ownValues.js";
import {
  type Coded,
  type Cohort,
  type Eye,
  type EyeOutcome,
  eyeOutcomes,
  type Findings,
  type Readings,
} from "../types.js";

/** Columns of a table of eyes: NaN is a missing number, "" a missing word; dioptres, degrees, months, years. */
export interface EyeTableColumns {
  /** The child, as the files number it. */
  readonly subject: readonly string[];
  readonly eye: readonly Eye[];
  /** How far the eye came on the way to a pair. */
  readonly outcome: readonly EyeOutcome[];
  readonly ageMonths: Float64Array;
  readonly ageYears: Float64Array;
  readonly site: readonly string[];
  /** What became of the reading. */
  readonly readingStatus: readonly string[];
  /** Sphere of the reading, dioptres. */
  readonly readingSphere: Float64Array;
  /** Cylinder of the reading as recorded, dioptres. */
  readonly readingCylinder: Float64Array;
  /** Axis of the reading, degrees. */
  readonly readingAxis: Float64Array;
  /** Spherical equivalent of the reading, dioptres. */
  readonly readingM: Float64Array;
  /** J0 of the reading, dioptres. */
  readonly readingJ0: Float64Array;
  /** J45 of the reading, dioptres, not mirrored. */
  readonly readingJ45: Float64Array;
  /** What became of the finding. */
  readonly findingStatus: readonly string[];
  /** Sphere of the finding, dioptres. */
  readonly findingSphere: Float64Array;
  /** Cylinder of the finding as recorded, dioptres. */
  readonly findingCylinder: Float64Array;
  /** Axis of the finding, degrees. */
  readonly findingAxis: Float64Array;
  /** Spherical equivalent of the finding, dioptres. */
  readonly findingM: Float64Array;
  /** J0 of the finding, dioptres. */
  readonly findingJ0: Float64Array;
  /** J45 of the finding, dioptres, not mirrored. */
  readonly findingJ45: Float64Array;
  /** M of the reading minus that of the finding. */
  readonly differenceM: Float64Array;
  /** J0 of the reading minus that of the finding. */
  readonly differenceJ0: Float64Array;
  /** J45 of the reading minus that of the finding; left eyes are not mirrored. */
  readonly differenceJ45: Float64Array;
}

/** A cohort as a table, one row an eye that either file knows, for slicing. */
export interface CohortTable extends ForAudience {
  readonly kind: "cohort-table";
  /** Rows, which are eyes. */
  readonly n: number;
  readonly children: number;
  readonly columns: EyeTableColumns;
  /** Columns of the user's own, by label: "" or NaN is missing. */
  readonly own: {
    readonly reading: Readonly<Record<string, OwnValues>>;
    readonly finding: Readonly<Record<string, OwnValues>>;
  };
}

/**
 * A cohort as a table, one row an eye that either file knows, in the order of the children, right before
 * left: reading, finding and their difference (reading minus finding) side by side, with M, J0 and J45
 * computed from sphere, cylinder and axis, and the user's own columns of both. What is missing is NaN in a
 * column of numbers and "" in one of words, so that a comparison with it is false.
 *
 * `filterEyes`, `sortEyes`, `groupEyes`, `countEyes` and `summariseEyes` slice it, `eyesAsTable` makes a table
 * for `toCsv`, `toWord` and `toFrame` of it. It holds one row an eye: for your own machine.
 *
 * @throws InputError for a cohort that `linkCohort` did not make
 * @example
 * const eye = { subject: "a", eye: "OD", sphere: -1, cylinder: -0.5, axis: 180 };
 * const cohort = linkCohort({ readings: await readReadings([eye]), findings: await readFindings([{ ...eye, sphere: -0.5 }]) });
 * cohortTable(cohort).columns.differenceM // => [-0.5]
 */
export function cohortTable(cohort: Cohort): CohortTable {
  const { children, readings, findings } = cohort;
  const { outcome } = children;
  if (outcome === undefined) {
    throw new InputError(
      "cohortTable requires a cohort made by linkCohort, got one without outcomes",
    );
  }
  const places = Array.from({ length: children.n }, (_, child) =>
    (["right", "left"] as const)
      .filter((eye) => outcome[eye][child] !== unknownEye)
      .map((eye) => ({ child, eye })),
  ).flat();
  const readingRows = places.map(({ child, eye }) => children.readingRow[eye][child]!);
  const findingRows = places.map(({ child, eye }) => children.findingRow[eye][child]!);
  const reading = sideColumns(readings, readingRows);
  const finding = sideColumns(findings, findingRows);
  const minus = (one: Float64Array, other: Float64Array) =>
    one.map((value, row) => withoutNoise(value - other[row]!));
  return {
    kind: "cohort-table",
    ...jointAudience(cohort),
    n: places.length,
    children: new Set(places.map(({ child }) => child)).size,
    columns: {
      subject: places.map(({ child }) => children.subject[child]!),
      eye: places.map(({ eye }) => eye),
      outcome: places.map(({ child, eye }) => eyeOutcomes[outcome[eye][child]!]!),
      ageMonths: Float64Array.from(places, ({ child }) => children.ageMonths[child]!),
      ageYears: Float64Array.from(places, ({ child }) => children.ageYears[child]!),
      site: places.map(({ child }) => wordAt(children.site, child)),
      readingStatus: reading.status,
      readingSphere: reading.sphere,
      readingCylinder: reading.cylinder,
      readingAxis: reading.axis,
      readingM: reading.M,
      readingJ0: reading.J0,
      readingJ45: reading.J45,
      findingStatus: finding.status,
      findingSphere: finding.sphere,
      findingCylinder: finding.cylinder,
      findingAxis: finding.axis,
      findingM: finding.M,
      findingJ0: finding.J0,
      findingJ45: finding.J45,
      differenceM: minus(reading.M, finding.M),
      differenceJ0: minus(reading.J0, finding.J0),
      differenceJ45: minus(reading.J45, finding.J45),
    },
    own: { reading: atRows(readings.own, readingRows), finding: atRows(findings.own, findingRows) },
  };
}

/** Columns of one side at some rows; -1 is no row. */
function sideColumns(data: Readings | Findings, rows: readonly number[]) {
  const at = (column: Float64Array) =>
    Float64Array.from(rows, (row) => (row < 0 ? Number.NaN : withoutNoise(column[row]!)));
  const { M, J0, J45 } = toPowerVectors(data);
  return {
    status: rows.map((row) => wordAt(data.status, row)),
    sphere: at(data.sphere),
    cylinder: at(data.cylinder),
    axis: at(data.axis),
    M: at(M),
    J0: at(J0),
    J45: at(J45),
  };
}

const wordAt = (column: Coded | null, row: number): string =>
  column === null || row < 0 ? "" : (column.labels[column.codes[row]!] ?? "");
