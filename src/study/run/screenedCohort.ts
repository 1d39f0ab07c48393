import { type Coded, type Cohort, eyeOutcomes } from "../../cohort/index.js";

const notScreened: ReadonlySet<string> = new Set([
  "exam-only",
  "not-eligible",
  "age-unclear",
  "no-reading",
]);

/** How far an eye came; null where it was not screened: unknown, not eligible, or without any row. */
export function screenedOutcome({ children }: Cohort, child: number, side: "right" | "left") {
  const outcome = eyeOutcomes[children.outcome?.[side][child] ?? 255];
  return outcome === undefined || notScreened.has(outcome) ? null : outcome;
}

/**
 * The children of whom an eye was screened, as a cohort of their own, for rules; a reading of too low
 * a confidence is an unreadable one.
 *
 * @returns `positions`: where each child stands in the whole cohort
 */
export function screenedCohort(cohort: Cohort): {
  readonly cohort: Cohort;
  readonly positions: Int32Array;
} {
  const { children } = cohort;
  const all = Int32Array.from({ length: children.n }, (_, child) => child);
  const positions = all.filter((child) =>
    (["right", "left"] as const).some((side) => screenedOutcome(cohort, child, side) !== null),
  );
  const numbers = <Column extends Int32Array | Float64Array | Uint8Array>(
    column: Column,
  ): Column => {
    const taken = column.slice(0, positions.length) as Column;
    positions.forEach((child, at) => {
      taken[at] = column[child];
    });
    return taken;
  };
  const coded = <Label extends string>({ codes, labels }: Coded<Label>): Coded<Label> => ({
    codes: numbers(codes),
    labels,
  });
  return {
    positions,
    cohort: {
      ...cohort,
      readings: withoutLowConfidence(cohort),
      children: {
        n: positions.length,
        subject: Array.from(positions, (child) => children.subject[child]),
        readingRow: {
          right: numbers(children.readingRow.right),
          left: numbers(children.readingRow.left),
        },
        findingRow: {
          right: numbers(children.findingRow.right),
          left: numbers(children.findingRow.left),
        },
        verification: coded(children.verification),
        verificationReason: coded(children.verificationReason),
        ageMonths: numbers(children.ageMonths),
        ageYears: numbers(children.ageYears),
        site: children.site === null ? null : coded(children.site),
      },
    },
  };
}

function withoutLowConfidence(cohort: Cohort): Cohort["readings"] {
  const { readings, children } = cohort;
  const rows: number[] = [];
  for (const side of ["right", "left"] as const) {
    for (let child = 0; child < children.n; child++) {
      if (screenedOutcome(cohort, child, side) === "low-confidence") {
        rows.push(children.readingRow[side][child]);
      }
    }
  }
  if (rows.length === 0) return readings;
  const without = (column: Float64Array) => {
    const copy = column.slice();
    for (const row of rows) copy[row] = Number.NaN;
    return copy;
  };
  const codes = readings.status.codes.slice();
  const { labels } = readings.status;
  const known = labels.includes("unreadable") ? labels : [...labels, "unreadable" as const];
  for (const row of rows) codes[row] = known.indexOf("unreadable");
  return {
    ...readings,
    status: { codes, labels: known },
    sphere: without(readings.sphere),
    cylinder: without(readings.cylinder),
    axis: without(readings.axis),
  };
}
