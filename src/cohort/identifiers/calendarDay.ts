/**
 * How a column writes dates: 2026-03-10, 10/03/2026, 03/10/2026, 10 Mar 2026, 20260310, or 46091, the
 * serial number of spreadsheets (days since 30 December 1899, right from 1 March 1900 on).
 */
export const dateOrders = [
  "iso",
  "day-first",
  "month-first",
  "month-name",
  "compact",
  "serial",
] as const;
export type DateOrder = (typeof dateOrders)[number];

/** A date: days since 1970, the month counted from year 0, and the day of the month. */
export interface CalendarDate {
  readonly day: number;
  readonly months: number;
  readonly dayOfMonth: number;
}

const time = String.raw`(?:[T ,]+\d{1,2}[:.h]\d{2}.*)?`;
const iso = new RegExp(String.raw`^(\d{4})[-/.](\d{1,2})[-/.](\d{1,2})${time}$`);
const compact = new RegExp(String.raw`^(\d{4})(\d{2})(\d{2})${time}$`);
const numbers = new RegExp(String.raw`^(\d{1,2})([-/. ])(\d{1,2})\2 ?(\d{4}|\d{2})${time}$`);
const weekday = String.raw`(?:\p{L}{2,9}[.,]+ ?|(?:mon|tue|wed|thu|fri|sat|sun)[a-z]* )?`;
const dayName = new RegExp(
  String.raw`^${weekday}(\d{1,2})(?:st|nd|rd|th)?[-/. ]*(?:de )?(\p{L}{3,12})[-/. ,]*(?:de )?(\d{4}|\d{2})${time}$`,
  "iu",
);
const nameDay = new RegExp(
  String.raw`^${weekday}(\p{L}{3,12})[-/. ]*(\d{1,2})(?:st|nd|rd|th)?[-/. ,]+(\d{4}|\d{2})${time}$`,
  "iu",
);
const yearNameDay = new RegExp(
  String.raw`^(\d{4})[-/. ]+(\p{L}{3,12})[-/. ]+(\d{1,2})${time}$`,
  "iu",
);
const serial = /^(\d{5})(?:[.,]\d+)?$/;

/**
 * Beginnings of month names: English, and where they differ German, French, Spanish, Portuguese, Italian, Dutch,
 * Nordic, Polish, Turkish and Indonesian. None of them begins another month's name in any of these.
 */
const monthNames = [
  ["jan", "ene", "gen", "sty", "oca"],
  ["feb", "fev", "lut", "sub"],
  ["mar", "mrz", "maa"],
  ["apr", "avr", "abr", "kwi", "nis"],
  ["may", "mai", "mag", "mei", "maj"],
  ["jun", "juin", "giu", "cze", "haz"],
  ["jul", "juil", "lug", "lip", "tem"],
  ["aug", "aou", "ago", "agu", "sie", "agt"],
  ["sep", "set", "wrz", "eyl"],
  ["oct", "okt", "out", "ott", "paz", "eki"],
  ["nov", "lis", "kas"],
  ["dec", "dez", "dic", "des", "gru", "ara"],
];

/**
 * A cell as a date, or null where it is none in this order.
 *
 * @param century what is added to years of two digits, such as 2000; without it they are not read
 */
export function calendarDate(
  text: string,
  order: DateOrder,
  century: number | null = null,
): CalendarDate | null {
  switch (order) {
    case "iso":
      return dated(iso.exec(text), 1, 2, 3, null);
    case "compact":
      return dated(compact.exec(text), 1, 2, 3, null);
    case "day-first":
      return dated(numbers.exec(text), 4, 3, 1, century);
    case "month-first":
      return dated(numbers.exec(text), 4, 1, 3, century);
    case "month-name":
      return (
        dated(dayName.exec(text), 3, 2, 1, century) ??
        dated(nameDay.exec(text), 3, 1, 2, century) ??
        dated(yearNameDay.exec(text), 1, 2, 3, century)
      );
    case "serial": {
      const [, days] = serial.exec(text) ?? [];
      return days === undefined ? null : fromDay(Number(days) - 25_569);
    }
  }
}

/** Days since 1970 of a date written year-month-day, or null for anything else. */
export function calendarDay(text: string): number | null {
  return calendarDate(text, "iso")?.day ?? null;
}

/** Completed months from a date of birth to a date; null where that is before it. */
export function completedMonths(birth: CalendarDate, at: CalendarDate): number | null {
  if (at.day < birth.day) return null;
  return at.months - birth.months - (at.dayOfMonth < birth.dayOfMonth ? 1 : 0);
}

/** A date as year-month-day. */
export function isoDay(day: number): string {
  return new Date(day * 86_400_000).toISOString().slice(0, 10);
}

function fromDay(day: number): CalendarDate {
  const date = new Date(day * 86_400_000);
  return {
    day,
    months: 12 * date.getUTCFullYear() + date.getUTCMonth(),
    dayOfMonth: date.getUTCDate(),
  };
}

function dated(
  match: RegExpExecArray | null,
  yearAt: number,
  monthAt: number,
  dayAt: number,
  century: number | null,
): CalendarDate | null {
  if (match === null) return null;
  const short = match[yearAt].length === 2;
  if (short && century === null) return null;
  const year = Number(match[yearAt]) + (short ? (century ?? 0) : 0);
  const month = monthNumber(match[monthAt]);
  const dayOfMonth = Number(match[dayAt]);
  const date = new Date(Date.UTC(year, month - 1, dayOfMonth));
  const exists = date.getUTCMonth() === month - 1 && date.getUTCDate() === dayOfMonth;
  if (!exists || month < 1) return null;
  return { day: date.getTime() / 86_400_000, months: 12 * year + month - 1, dayOfMonth };
}

/** A month's number from its number or its name; 0 for another word. */
function monthNumber(text: string): number {
  if (/^\d/.test(text)) return Number(text);
  const plain = text.normalize("NFD").replace(/\p{M}/gu, "").toLowerCase();
  return 1 + monthNames.findIndex((names) => names.some((name) => plain.startsWith(name)));
}
