import { InputError, type RunOptions } from "../results/index.js";
import { calendarDay, completedMonths } from "./calendarDay.js";
import { identifierScan } from "./identifierScan.js";
import { keyText, numbersFor } from "./keyTable.js";
import { openSource, type Source, sourceName } from "./openSource.js";
import { problemLog } from "./problemLog.js";
import type { TextTable } from "./textTable.js";
import { writeWhole } from "./writeWhole.js";

export interface DeidentifyOptions extends RunOptions {
  /** The column that says which child a row belongs to. */
  readonly subject: string;
  /** Where the copy goes, a CSV file. */
  readonly to: string;
  /** Random study numbers with a key table (default), or keyed hashes of the subjects. */
  readonly numbers?: { readonly keyFile: string } | { readonly secret: string };
  /** Columns of dates, written as days from the child's earliest date of the first of them. */
  readonly dates?: readonly string[];
  /** The column of the date of birth; with dates it becomes the age in completed months. */
  readonly birthDate?: string;
  /** Columns to leave out, beside those that look like identifiers. */
  readonly drop?: readonly string[];
}

export interface DeidentificationLog {
  readonly kind: "deidentification";
  readonly rows: number;
  readonly subjects: number;
  readonly numbers: "random study numbers" | "pseudonymised, derived from the record number";
  readonly columns: readonly {
    readonly column: string;
    readonly action: "kept" | "dropped" | "replaced" | "age in months" | "days from first visit";
    readonly reason: string;
  }[];
  /** Cells of dates that could not be read and were left empty. */
  readonly unreadDates: number;
  readonly note: string;
}

/**
 * Writes a copy of a table with fewer identifiers: study numbers for subjects, ages in completed
 * months, days from the child's first visit in place of dates (year-month-day), and without every
 * column that looks like an identifier. The rows are in the order of the study numbers. The key
 * table goes to a file of its own that its owner alone can read; an existing one is continued, so
 * that several files of a study share it. Nothing is left behind when it fails.
 *
 * @throws InputError for columns that are not there
 *
 * @example
 * import { tmpdir } from "node:os";
 * const rows = [{ child: "12", family_name: "Invented", born: "2015-03-01", visit: "2020-04-15", sphere: "1.25" }];
 * const log = await deidentify(rows, { subject: "child", to: `${tmpdir()}/copy.csv`, numbers: { secret: "a secret a secret kept like a key" }, dates: ["visit"], birthDate: "born" });
 * log.columns.map(({ action }) => action) // => ["replaced", "dropped", "age in months", "days from first visit", "kept"]
 */
export async function deidentify(
  source: Source,
  options: DeidentifyOptions,
): Promise<DeidentificationLog> {
  const { signal, subject, to, dates = [], birthDate, drop = [] } = options;
  const table = await wholeOf(source);
  signal?.throwIfAborted();
  const at = (name: string) => {
    const position = table.header.indexOf(name);
    if (position < 0) throw new InputError(`deidentify requires the column "${name}", got none`);
    return position;
  };
  const subjectAt = at(subject);
  const dateAt = dates.map(at);
  const birthAt = birthDate === undefined ? -1 : at(birthDate);
  if (birthAt >= 0 && dateAt.length === 0) {
    throw new InputError("deidentify requires dates for an age from the date of birth, got none");
  }
  drop.forEach(at);
  const scan = identifierScan(table.header);
  scan.add(table);
  const suspected = new Map(
    scan.finish(subject, { uniqueCodes: true }).map(({ column, kind }) => [column, kind]),
  );
  const rows = Array.from({ length: table.n }, (_, row) => row);
  const subjects = [...new Set(rows.map((row) => table.text(subjectAt, row)))];
  const key = await numbersFor(subjects, options.numbers);
  const firstDay = new Map<string, number>();
  if (dateAt.length > 0) {
    for (const row of rows) {
      const day = calendarDay(table.text(dateAt[0], row));
      const child = table.text(subjectAt, row);
      if (day !== null) firstDay.set(child, Math.min(day, firstDay.get(child) ?? day));
    }
  }
  let unreadDates = 0;
  const columns: DeidentificationLog["columns"][number][] = [];
  const writers: { name: string; cell: (row: number) => string }[] = [];
  table.header.forEach((column, index) => {
    const kind = suspected.get(column);
    if (index === subjectAt) {
      columns.push({ column, action: "replaced", reason: "the subject" });
      writers.push({ name: "subject", cell: (row) => key.get(table.text(index, row)) ?? "" });
    } else if (drop.includes(column)) {
      columns.push({ column, action: "dropped", reason: "asked for" });
    } else if (index === birthAt) {
      columns.push({ column, action: "age in months", reason: "a date of birth" });
      writers.push({ name: "ageMonths", cell: (row) => monthsAt(row) });
    } else if (dateAt.includes(index)) {
      columns.push({ column, action: "days from first visit", reason: "a date" });
      writers.push({ name: column, cell: (row) => dayOffset(row, index) });
    } else if (kind !== undefined) {
      columns.push({ column, action: "dropped", reason: `looks like ${kind}` });
    } else {
      columns.push({ column, action: "kept", reason: "looks harmless" });
      writers.push({ name: column, cell: (row) => table.text(index, row) });
    }
  });
  const order = rows.toSorted((a, b) =>
    numberOf(a) < numberOf(b) ? -1 : numberOf(a) > numberOf(b) ? 1 : 0,
  );
  const lines = [
    writers.map(({ name }) => csvCell(name)).join(","),
    ...order.map((row) => writers.map(({ cell }) => csvCell(cell(row))).join(",")),
  ];
  const { numbers } = options;
  if (numbers !== undefined && "keyFile" in numbers)
    await writeWhole(numbers.keyFile, keyText(key));
  await writeWhole(to, `${lines.join("\n")}\n`);
  return {
    kind: "deidentification",
    rows: table.n,
    subjects: subjects.length,
    numbers:
      numbers !== undefined && "secret" in numbers
        ? "pseudonymised, derived from the record number"
        : "random study numbers",
    columns,
    unreadDates,
    note: "Fewer identifiers are not none: rare values and combinations of them can still single out a child.",
  };

  function numberOf(row: number): string {
    return key.get(table.text(subjectAt, row)) ?? "";
  }

  function dayOffset(row: number, column: number): string {
    const text = table.text(column, row);
    const day = calendarDay(text);
    const first = firstDay.get(table.text(subjectAt, row));
    if (day !== null && first !== undefined) return String(day - first);
    if (text !== "") unreadDates++;
    return "";
  }

  function monthsAt(row: number): string {
    const months = completedMonths(table.text(birthAt, row), table.text(dateAt[0], row));
    if (months === null && table.text(birthAt, row) !== "") unreadDates++;
    return months === null ? "" : String(months);
  }
}

async function wholeOf(source: Source): Promise<TextTable> {
  const log = problemLog(sourceName(source));
  const opened = await openSource(source, {}, log, "deidentify", { large: 400_000_000 });
  for await (const { table } of opened.tables({ numeric: new Map(), coded: new Set() })) {
    if (table.whole) return table;
  }
  throw new InputError("deidentify requires a table that fits in memory, got a larger one");
}

function csvCell(text: string): string {
  return /[",\r\n]/.test(text) ? `"${text.replaceAll('"', '""')}"` : text;
}
