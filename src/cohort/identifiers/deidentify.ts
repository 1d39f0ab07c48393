import { exists, removeFile, resolve, whileLocked, writeFileWhole } from "../../platform/index.js";
import { InputError, type RunOptions } from "../../results/index.js";
import { csvCell } from "../../text/index.js";
import { problemLog } from "../problemLog.js";
import { openSource, sourceName } from "../read/openSource.js";
import type { Source } from "../read/source.js";
import type { TextTable } from "../read/textTable.js";
import { calendarDate, calendarDay, completedMonths } from "./calendarDay.js";
import { identifierScan } from "./identifierScan.js";
import { keyTableText, numbersFor } from "./keyTable.js";

export interface DeidentifyOptions extends RunOptions {
  /** The column that says which child a row belongs to. */
  readonly subject: string;
  /** Where the copy goes, a CSV file. */
  readonly to: string;
  /** Random study numbers with a key table (default), or keyed hashes of the subjects. */
  readonly numbers?: { readonly keyFile: string } | { readonly secret: string };
  /**
   * Columns of dates, written as days from the child's earliest date of the first of them; files that share
   * a key table share that day, too, which is fixed by the first of them that has the child.
   */
  readonly dates?: readonly string[];
  /** The column of the date of birth; with dates it becomes the age in completed months. */
  readonly birthDate?: string;
  /** Columns to leave out, beside those that look like identifiers. */
  readonly drop?: readonly string[];
}

const whole = { caller: "deidentify", private: true };

/** What was taken out of a file, changed in it, and kept. */
export interface DeidentificationLog {
  readonly kind: "deidentification";
  readonly rowCount: number;
  readonly subjects: number;
  readonly numbers: "random study numbers" | "pseudonymised, derived from the record number";
  readonly columns: readonly {
    readonly column: string;
    readonly action: "kept" | "dropped" | "replaced" | "age in months" | "days from first visit";
    readonly reason: string;
  }[];
  /** Cells of dates left empty: they could not be read, or gave an age over 89 years. */
  readonly unreadDates: number;
  readonly note: string;
}

/**
 * Writes a copy of a table with fewer identifiers: study numbers for subjects, ages in completed
 * months, days from the child's first visit in place of dates (year-month-day), and without every
 * column that looks like an identifier. `prepareFiles` does this for several files and further formats. The rows are in the order of the study numbers. The key
 * table goes to a file of its own that its owner alone can read; an existing one is continued, so
 * that several files of a study share it. Nothing is left behind when it fails.
 *
 * @throws InputError for columns that are not there, or there twice, for one file in two places, and for
 *   a key table that cannot be read
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
  const { numbers } = options;
  if (numbers === undefined || "secret" in numbers) return copyWithout(source, options);
  // two runs that continue one key table come one after the other, so that neither loses the other's children
  return whileLocked(numbers.keyFile, { caller: "deidentify" }, () => copyWithout(source, options));
}

async function copyWithout(
  source: Source,
  options: DeidentifyOptions,
): Promise<DeidentificationLog> {
  const { signal, subject, to, dates = [], birthDate, drop = [] } = options;
  requireOtherFile(source, options);
  const table = await wholeOf(source);
  signal?.throwIfAborted();
  const at = (name: string) => {
    const position = table.header.indexOf(name);
    if (position < 0) throw new InputError(`deidentify requires the column "${name}", got none`);
    if (table.header.indexOf(name, position + 1) >= 0) {
      throw new InputError(`deidentify requires one column "${name}", got several of that name`);
    }
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
  const subjectOf = (row: number) => table.text(subjectAt, row);
  // rows without a subject are no child, and stay without one
  const subjects = [...new Set(rows.map(subjectOf))].filter((text) => text !== "");
  const { numbers: key, zeros } = await numbersFor(subjects, options.numbers);
  const firstDay = new Map<string, number>();
  if (dateAt.length > 0) {
    for (const row of rows) {
      const day = calendarDay(table.text(dateAt[0], row));
      const child = subjectOf(row);
      if (day !== null && child !== "")
        firstDay.set(child, Math.min(day, firstDay.get(child) ?? day));
    }
  }
  // the first file of a study fixes the day that the days of all its files are counted from
  for (const [child, day] of firstDay) if (!zeros.has(child)) zeros.set(child, day);
  let unreadDates = 0;
  const columns: DeidentificationLog["columns"][number][] = [];
  const writers: { name: string; cell: (row: number) => string }[] = [];
  table.header.forEach((column, index) => {
    const kind = suspected.get(column);
    if (index === subjectAt) {
      columns.push({ column, action: "replaced", reason: "the subject" });
      writers.push({ name: "subject", cell: numberOf });
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
    } else if (repeatsSubject(index)) {
      columns.push({ column, action: "dropped", reason: "repeats the subject" });
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
  const text = `${lines.join("\n")}\n`;
  if (numbers !== undefined && "keyFile" in numbers) {
    await writeWithKey(
      to,
      text,
      numbers.keyFile,
      keyTableText({ numbers: key, zeros, ignoring: "" }),
    );
  } else await writeFileWhole(to, text, whole);
  return {
    kind: "deidentification",
    rowCount: table.n,
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
    return key.get(subjectOf(row)) ?? "";
  }

  /** Whether most filled cells of a column hold their row's subject: the record number once more. */
  function repeatsSubject(column: number): boolean {
    const filled = rows.filter((row) => table.text(column, row) !== "");
    const same = filled.filter((row) => table.text(column, row) === subjectOf(row));
    return same.length > filled.length / 2;
  }

  function dayOffset(row: number, column: number): string {
    const text = table.text(column, row);
    const day = calendarDay(text);
    const first = zeros.get(subjectOf(row));
    if (day !== null && first !== undefined) return String(day - first);
    if (text !== "") unreadDates++;
    return "";
  }

  function monthsAt(row: number): string {
    const birth = calendarDate(table.text(birthAt, row), "iso");
    const at = calendarDate(table.text(dateAt[0], row), "iso");
    const months = birth === null || at === null ? null : completedMonths(birth, at);
    if (months !== null && months < 90 * 12) return String(months);
    if (table.text(birthAt, row) !== "") unreadDates++;
    return "";
  }
}

/** Two of the three files in one place would overwrite each other. */
function requireOtherFile(source: Source, { to, numbers }: DeidentifyOptions): void {
  const keyFile = numbers !== undefined && "keyFile" in numbers ? numbers.keyFile : undefined;
  const files = [typeof source === "string" ? source : undefined, to, keyFile].flatMap((path) =>
    path === undefined ? [] : resolve(path),
  );
  if (new Set(files).size < files.length) {
    throw new InputError(
      "deidentify requires different files for the source, the copy and the key table, got one for two",
    );
  }
}

/** A new key table does not stay where its copy could not be written. */
async function writeWithKey(to: string, text: string, keyFile: string, key: string) {
  const continued = exists(keyFile);
  await writeFileWhole(keyFile, key, whole);
  try {
    await writeFileWhole(to, text, whole);
  } catch (error) {
    if (!continued) await removeFile(keyFile);
    throw error;
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
