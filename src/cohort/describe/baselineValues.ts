import type { Cohort } from "../types.js";

/** A number of each child, NaN where it is not known. */
export type ChildValue = (child: number) => number;

/** Ages in years; whole years stand for their middle, as no month is known. */
export function ageOf({ children: { ageMonths, ageYears } }: Cohort): ChildValue {
  return (child) =>
    Number.isNaN(ageMonths[child]) ? ageYears[child] + 0.5 : (ageMonths[child] + 0.5) / 12;
}

/** What the readings say, by child, of right eyes. */
export function ofRightEye({ children }: Cohort, valueAt: (row: number) => number): ChildValue {
  const { right } = children.readingRow;
  return (child) => (right[child] < 0 ? Number.NaN : valueAt(right[child]));
}

/** Days from a child's reading to its finding, by right eyes, else left ones; null where a file has no days. */
export function daysToExam({ readings, findings, children }: Cohort): ChildValue | null {
  if (readings.day === null || findings.day === null) return null;
  const { day } = findings;
  const { day: screened } = readings;
  const { readingRow, findingRow } = children;
  const between = (reading: number, finding: number) =>
    reading < 0 || finding < 0 ? Number.NaN : day[finding] - screened[reading];
  return (child) => {
    const days = between(readingRow.right[child], findingRow.right[child]);
    return Number.isNaN(days) ? between(readingRow.left[child], findingRow.left[child]) : days;
  };
}
