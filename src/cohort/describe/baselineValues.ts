import type { Cohort } from "../types.js";

/** Ages in years; whole years stand for their middle, as no month is known. */
export function ages({ children }: Cohort): Float64Array {
  return children.ageMonths.map((months, child) =>
    Number.isNaN(months) ? children.ageYears[child] + 0.5 : (months + 0.5) / 12,
  );
}

/** A column of the readings by child, of right eyes. */
export function perChild({ children }: Cohort, values: Float64Array): Float64Array {
  const { right } = children.readingRow;
  const ofChild = new Float64Array(right.length);
  for (let child = 0; child < right.length; child++) {
    ofChild[child] = right[child] < 0 ? Number.NaN : values[right[child]];
  }
  return ofChild;
}

/** Days from a child's reading to its finding, by right eyes, else left ones. */
export function interval({ readings, findings, children }: Cohort): Float64Array | null {
  if (readings.day === null || findings.day === null) return null;
  const { day } = findings;
  const { day: screened } = readings;
  const days = new Float64Array(children.n).fill(Number.NaN);
  // the right eye's is written last
  for (const side of ["left", "right"] as const) {
    const reading = children.readingRow[side];
    const finding = children.findingRow[side];
    for (let child = 0; child < children.n; child++) {
      if (reading[child] < 0 || finding[child] < 0) continue;
      const between = day[finding[child]] - screened[reading[child]];
      if (!Number.isNaN(between)) days[child] = between;
    }
  }
  return days;
}
