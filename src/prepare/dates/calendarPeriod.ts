import type { CalendarDate } from "../../cohort/index.js";

export type PeriodLength = "none" | "year" | "half-year" | "school-year";

/** The calendar period that a date lies in, coarse enough to stay when the date goes. */
export function calendarPeriod(
  { months }: CalendarDate,
  every: Exclude<PeriodLength, "none">,
  schoolYearStarts: number,
): string {
  const year = Math.floor(months / 12);
  const month = (months % 12) + 1;
  if (every === "year") return String(year);
  if (every === "half-year") return `${year}-H${month <= 6 ? 1 : 2}`;
  const first = month >= schoolYearStarts ? year : year - 1;
  return `${first}-${first + 1}`;
}
