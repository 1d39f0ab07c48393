import type { Cohort } from "./types.js";

/** Ages in years; whole years stand for their middle, as no month is known. */
export function ages({ children }: Cohort): Float64Array {
  return children.ageMonths.map((months, child) =>
    Number.isNaN(months) ? children.ageYears[child] + 0.5 : (months + 0.5) / 12,
  );
}

/** A column of the readings by child, of right eyes. */
export function perChild({ children }: Cohort, values: Float64Array): Float64Array {
  return Float64Array.from(children.readingRow.right, (row) =>
    row < 0 ? Number.NaN : values[row],
  );
}

/** Days from a child's reading to its finding, by right eyes, else left ones. */
export function interval({ readings, findings, children }: Cohort): Float64Array | null {
  if (readings.day === null || findings.day === null) return null;
  const { day } = findings;
  const { day: screened } = readings;
  return Float64Array.from({ length: children.n }, (_, child) => {
    for (const side of ["right", "left"] as const) {
      const reading = children.readingRow[side][child];
      const finding = children.findingRow[side][child];
      if (reading >= 0 && finding >= 0) return day[finding] - screened[reading];
    }
    return Number.NaN;
  });
}
