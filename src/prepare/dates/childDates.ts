import {
  type CalendarDate,
  type CodedTable,
  calendarDate,
  completedMonths,
} from "../../cohort/index.js";
import type { DetectedColumn, DetectedFile } from "../detect/detected.js";

/** The dates of a column by code; null where a cell is none. */
export type DatesByCode = readonly (CalendarDate | null)[];

/** A cell of which the dates cannot be in this order; shown by line, and by study number once there is one. */
export interface OutOfOrder {
  readonly file: string;
  readonly line: number;
  readonly child: number;
  readonly what: "the exam is before the screening" | "the birth is after the visit";
}

export interface ChildDates {
  /** Dates of every column of dates, by file and position. */
  readonly dates: readonly ReadonlyMap<number, DatesByCode>[];
  /** The day that each child's days are counted from; NaN where no file has a date of it. */
  readonly zeros: Float64Array;
  /** Each child's date of birth, the first that is given. */
  readonly births: readonly (CalendarDate | null)[];
  readonly outOfOrder: readonly OutOfOrder[];
}

/**
 * Day zero of each child: its first screening, or its first date at all where no file with readings has one.
 * A day fixed before (by a key table) holds.
 */
export function childDates(
  tables: readonly CodedTable[],
  files: readonly DetectedFile[],
  childOf: readonly Int32Array[],
  children: number,
  fixed: (child: number) => number | undefined,
): ChildDates {
  const dates = tables.map((table, file) => datesOf(table, files[file]));
  const zeros = new Float64Array(children).fill(Number.NaN);
  const births: (CalendarDate | null)[] = new Array(children).fill(null);
  for (const readings of [true, false]) {
    const before = zeros.slice();
    eachDate((child, date, column, file) => {
      const screening =
        column.of === "readings" || (column.of === null && files[file].holds?.[0] === "readings");
      if (column.is !== "date" || screening !== readings) return;
      if (!readings && !Number.isNaN(before[child])) return;
      if (!(date.day >= zeros[child])) zeros[child] = date.day;
    });
  }
  for (let child = 0; child < children; child++) zeros[child] = fixed(child) ?? zeros[child];
  eachDate((child, date, column) => {
    if (column.is === "birth-date") births[child] ??= date;
  });
  const outOfOrder: OutOfOrder[] = [];
  eachDate((child, date, column, file, row) => {
    if (column.is !== "date") return;
    const at = { file: tables[file].file, line: tables[file].line[row], child };
    const birth = births[child];
    if (birth !== null && birth.day > date.day) {
      outOfOrder.push({ ...at, what: "the birth is after the visit" });
    }
    if (column.of === "findings" && date.day < zeros[child]) {
      outOfOrder.push({ ...at, what: "the exam is before the screening" });
    }
  });
  return { dates, zeros, births, outOfOrder };

  function eachDate(
    visit: (
      child: number,
      date: CalendarDate,
      column: DetectedColumn,
      file: number,
      row: number,
    ) => void,
  ): void {
    tables.forEach((table, file) => {
      for (const [at, byCode] of dates[file]) {
        const { codes } = table.columns[at];
        const column = files[file].columns[at];
        for (let row = 0; row < table.n; row++) {
          const child = childOf[file][row];
          const date = byCode[codes[row]];
          if (child >= 0 && date !== null) visit(child, date, column, file, row);
        }
      }
    });
  }
}

function datesOf(table: CodedTable, { columns }: DetectedFile): Map<number, DatesByCode> {
  const found = new Map<number, DatesByCode>();
  columns.forEach(({ is, order, century }, at) => {
    if ((is !== "date" && is !== "birth-date") || order === null) return;
    found.set(
      at,
      table.columns[at].labels.map((label) => calendarDate(label, order, century)),
    );
  });
  return found;
}

/** Completed months at a date, below 90 years; null where there is none, or more. */
export function monthsAt(birth: CalendarDate | null, at: CalendarDate | null): number | null {
  const months = birth === null || at === null ? null : completedMonths(birth, at);
  return months === null || months >= 90 * 12 ? null : months;
}
