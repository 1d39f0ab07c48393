/** Days since 1970 of a date written year-month-day, or null for anything else. */
export function calendarDay(text: string): number | null {
  const parts = dateParts(text);
  return parts === null ? null : Date.UTC(parts[0], parts[1] - 1, parts[2]) / 86_400_000;
}

/** Completed months from a date of birth to a later date, both year-month-day; null otherwise. */
export function completedMonths(birth: string, at: string): number | null {
  const from = dateParts(birth);
  const to = dateParts(at);
  if (from === null || to === null) return null;
  const months = 12 * (to[0] - from[0]) + to[1] - from[1] - (to[2] < from[2] ? 1 : 0);
  return months < 0 ? null : months;
}

function dateParts(text: string): [number, number, number] | null {
  const match = /^(\d{4})-(\d{1,2})-(\d{1,2})(?:[T ].*)?$/.exec(text);
  if (match === null) return null;
  const [year, month, day] = match.slice(1).map(Number);
  const date = new Date(Date.UTC(year, month - 1, day));
  const exists = date.getUTCMonth() === month - 1 && date.getUTCDate() === day;
  return exists ? [year, month, day] : null;
}
