import type { CodedTable } from "../../cohort/index.js";
import { writtenAge } from "../detect/cellForms.js";
import { plainNumber } from "../detect/columnFacts.js";
import type { DetectedColumn } from "../detect/detected.js";
import { ageUnitOf, isBlankMark } from "../detect/wordLists.js";

type Unit = "months" | "years";
/** Ages of two units as two columns, each cell in one of them; "" where neither is known. */
export interface AgesApart {
  readonly months: (row: number) => string;
  readonly years: (row: number) => string;
  /** The units that cells have. */
  readonly units: ReadonlySet<Unit>;
  /** Filled cells whose unit or number cannot be read, or that are 90 years or more. */
  readonly lost: number;
}

/** Under "years-or-months": a number up to here is of years, and from the other on of months. */
const mostYears = 19;
const leastMonths = 24;

/**
 * Takes a column of ages apart where its cells are not all numbers of one unit: the unit stands in the cell, in
 * another column, or follows from the number by a rule that somebody declared. Completed years stay years, since
 * their months are not known. Null for a column of plain numbers.
 */
export function agesApart(
  table: CodedTable,
  at: number,
  columns: readonly DetectedColumn[],
): AgesApart | null {
  const { is, unit, facts } = columns[at];
  if (is !== "age") return null;
  const { codes, labels } = table.columns[at];
  const written = labels.map(writtenAge);
  const apart = unit === "years-and-months" || unit === "years-or-months" || unit === "unit-column";
  if (!apart && written.every((age) => age === null)) return null;
  // where 5;4 stands, 5 alone is completed years, as the readers take it
  const short = [...facts.cells.keys()].some((text) => /^\d{1,2}[;:]\d/.test(text));
  const unitAt = columns.findIndex((column) => column.is === "age-unit");
  const units = new Set<Unit>();
  const values = {
    months: new Int16Array(table.n).fill(-1),
    years: new Int16Array(table.n).fill(-1),
  };
  let lost = 0;
  for (let row = 0; row < table.n; row++) {
    const label = labels[codes[row]];
    if (label === "" || isBlankMark(label)) continue;
    const age = written[codes[row]] ?? plain(label, row);
    if (age === null || age.value < 0 || age.value > (age.unit === "months" ? 1079 : 89)) lost++;
    else {
      values[age.unit][row] = age.value;
      units.add(age.unit);
    }
  }
  const cells = (own: Unit) => (row: number) =>
    values[own][row] < 0 ? "" : String(values[own][row]);
  return { months: cells("months"), years: cells("years"), units, lost };

  function plain(label: string, row: number): { unit: Unit; value: number } | null {
    const value = plainNumber(label);
    if (Number.isNaN(value)) return null;
    const own = unitOf(value, row);
    if (own === null) return null;
    if (Number.isInteger(value)) return { unit: own, value };
    // decimal years are known to the month, and a part of a month is none
    return own === "years"
      ? { unit: "months", value: Math.floor(12 * value + 1e-9) }
      : { unit: own, value: Math.floor(value) };
  }

  function unitOf(value: number, row: number): Unit | null {
    if (unit === "unit-column") {
      const cells = table.columns[unitAt];
      return cells === undefined ? null : ageUnitOf(cells.labels[cells.codes[row]]);
    }
    if (unit === "years-or-months") {
      return value <= mostYears ? "years" : value >= leastMonths ? "months" : null;
    }
    if (unit === "years-and-months") return short ? "years" : null;
    return unit === "months" ? "months" : "years";
  }
}
