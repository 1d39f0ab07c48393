import { problemRules } from "../problemLog.js";
import type { Cohort, Problem } from "../types.js";

/** Days of a month, on average. */
const monthDays = 365.25 / 12;
/** Completed months lose up to one month at either end; more than this is no rounding. */
const leastMonths = 2;

/**
 * Children whose rows seem to be several children under one number: ages in months that contradict
 * each other by more than 2 months once the days between the rows are taken off. One entry a child,
 * at the first row that contradicts its earlier ones, without the number itself. Rows without an age
 * say nothing, nor do rows without a day. Listed, never repaired:
 * a mistyped age looks the same.
 *
 * @example
 * const eye = { subject: "a", eye: "OD", sphere: -1, cylinder: 0, axis: 0, day: 0 };
 * const readings = await readReadings([{ ...eye, ageMonths: 40 }]);
 * const findings = await readFindings([{ ...eye, ageMonths: 70 }]);
 * suspectedSharedNumbers(linkCohort({ readings, findings })).length // => 1
 */
export function suspectedSharedNumbers({ readings, findings }: Cohort): Problem[] {
  /** Lowest and highest age at day 0, in months, by subject. */
  const spans = new Map<string, { low: number; high: number }>();
  const listed = new Set<string>();
  const problems: Problem[] = [];
  for (const [data, file] of [
    [readings, "readings"],
    [findings, "findings"],
  ] as const) {
    for (let row = 0; row < data.n; row++) {
      const age =
        (data.ageMonths?.[row] ?? Number.NaN) - (data.day?.[row] ?? Number.NaN) / monthDays;
      if (Number.isNaN(age)) continue;
      const subject = data.subject.labels[data.subject.codes[row]];
      const span = spans.get(subject) ?? { low: age, high: age };
      span.low = Math.min(span.low, age);
      span.high = Math.max(span.high, age);
      spans.set(subject, span);
      if (span.high - span.low <= leastMonths || listed.has(subject)) continue;
      listed.add(subject);
      problems.push({
        file,
        row: data.line[row],
        column: null,
        value: `ages ${(span.high - span.low).toFixed(1)} months apart`,
        rule: "number-shared",
        message: problemRules["number-shared"],
        action: "kept",
      });
    }
  }
  return problems;
}
