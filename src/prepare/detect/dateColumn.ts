import { calendarDate, type DateOrder } from "../../cohort/index.js";

/** How a column writes its dates, decided over all of its cells. */
export interface DateColumn {
  /** Null where no value decides between day and month first. */
  readonly order: DateOrder | null;
  /** Years of two digits. */
  readonly shortYears: boolean;
  /** Filled cells that are no date in this order. */
  readonly unread: number;
  /** What was seen, in words. */
  readonly because: string;
  /** Least and greatest day since 1970, where the order is known. */
  readonly days: readonly [number, number] | null;
}

const known = new WeakMap<ReadonlyMap<string, number>, Map<boolean, DateColumn | null>>();

/**
 * Whether most cells of a column are dates, and in which order; null where they are not. A column is looked
 * through once, however often it is asked.
 */
export function dateColumn(
  words: ReadonlyMap<string, number>,
  { serials }: { readonly serials: boolean },
): DateColumn | null {
  const answers = known.get(words) ?? new Map<boolean, DateColumn | null>();
  known.set(words, answers);
  const before = answers.get(serials);
  if (before !== undefined) return before;
  const found = orderOf(words, serials);
  answers.set(serials, found);
  return found;
}

function orderOf(words: ReadonlyMap<string, number>, serials: boolean): DateColumn | null {
  const filled = sum(words.values());
  if (filled === 0 || !looksLikeDates(words, serials)) return null;
  const plain = ordersOf(
    words,
    "iso",
    "compact",
    "month-name",
    ...(serials ? ["serial" as const] : []),
  );
  const [best] = plain.toSorted((one, other) => other.read - one.read);
  // with any century, since the order does not depend on it
  const [dayFirst, monthFirst] = ordersOf(words, "day-first", "month-first");
  if (best.read >= Math.max(dayFirst.read, monthFirst.read)) {
    return best.read < filled / 2 ? null : found(best.order, best);
  }
  if (Math.max(dayFirst.read, monthFirst.read) < filled / 2) return null;
  const either = both(words);
  const day = { ...dayFirst, only: dayFirst.read - either };
  const month = { ...monthFirst, only: monthFirst.read - either };
  if (day.only > 0 && month.only === 0) {
    return found("day-first", day, `${day.only} cells have a day above 12 first`);
  }
  if (month.only > 0 && day.only === 0) {
    return found("month-first", month, `${month.only} cells have a day above 12 second`);
  }
  return {
    order: null,
    shortYears: day.short,
    unread: filled - Math.max(day.read, month.read),
    because:
      day.only > 0
        ? `${day.only} cells can only be day first, ${month.only} only month first`
        : "no cell has a day above 12, so that day and month could be exchanged",
    days: null,
  };

  function found(order: DateOrder, { read, short, days }: OrderCount, why = ""): DateColumn {
    return {
      order,
      shortYears: short,
      unread: filled - read,
      because: why === "" ? `${read} of ${filled} cells are dates of this form` : why,
      days,
    };
  }
}

interface OrderCount {
  readonly order: DateOrder;
  readonly read: number;
  readonly short: boolean;
  readonly days: readonly [number, number] | null;
}

function ordersOf(words: ReadonlyMap<string, number>, ...orders: DateOrder[]): OrderCount[] {
  return orders.map((order) => {
    let [read, short] = [0, false];
    let [low, high] = [Number.POSITIVE_INFINITY, Number.NEGATIVE_INFINITY];
    for (const [text, times] of words) {
      const whole = calendarDate(text, order);
      const date = whole ?? calendarDate(text, order, 2000);
      if (date === null || (order !== "serial" && !plausible(date.months))) continue;
      short ||= whole === null;
      read += times;
      low = Math.min(low, date.day);
      high = Math.max(high, date.day);
    }
    return { order, read, short, days: read === 0 ? null : [low, high] };
  });
}

/** Years from 1900 to 2099. */
function plausible(months: number): boolean {
  return months >= 1900 * 12 && months < 2100 * 12;
}

/** Cells that are a date either way. */
function both(words: ReadonlyMap<string, number>): number {
  let count = 0;
  for (const [text, times] of words) {
    const either = (["day-first", "month-first"] as const).every(
      (order) => calendarDate(text, order, 2000) !== null,
    );
    if (either) count += times;
  }
  return count;
}

/** By the first cells: a column of a million codes is not asked once more. */
function looksLikeDates(words: ReadonlyMap<string, number>, serials: boolean): boolean {
  let [looked, alike] = [0, 0];
  for (const text of words.keys()) {
    if (looked >= 200) break;
    looked++;
    const shape = /^(19|20)\d{6}\b|\d[-/. ]+\d{1,2}[-/. ]+\d|\d\D?[\p{L}]{3}|\p{L}{3}\D*\d/u.test(
      text,
    );
    const named = serials && /^\d{5}([.,]\d+)?$|\d{1,4}[-/. ]|\d{8}/.test(text);
    if (shape || named) alike++;
  }
  return alike > looked / 3;
}

function sum(values: Iterable<number>): number {
  let total = 0;
  for (const value of values) total += value;
  return total;
}
