import { mkdir, rm } from "node:fs/promises";
import { basename, dirname, join, resolve } from "node:path";
import {
  type CodedTable,
  type ColumnMapping,
  columnsJsonSchema,
  keyTableText,
  readKeyTable,
} from "../cohort/index.js";
import { whileLocked, writeFileWhole } from "../platform/index.js";
import { randomPseudonyms } from "../privacy/index.js";
import { InputError, type RunOptions } from "../results/index.js";
import {
  choicesJsonSchema,
  defineChoices,
  type Fate,
  type FileChoices,
  type PreparationChoices,
} from "./choices.js";
import { choicesOf } from "./choicesOf.js";
import { childDates } from "./dates/childDates.js";
import type { DetectedFile, FileAnswers } from "./detect/detected.js";
import { detectFiles } from "./detect/detectFiles.js";
import { hasMeasurements } from "./detect/measurementKind.js";
import type { Role } from "./detect/roles.js";
import { isBlankMark } from "./detect/wordLists.js";
import { linkChildren } from "./ids/linkChildren.js";
import { type IdMatches, idMatches, matchOf } from "./ids/linkReport.js";
import type { Ignorable } from "./ids/normaliseId.js";
import { type LeftOut, proposeMapping } from "./mapping/proposeMapping.js";
import { type OpenQuestion, openQuestions } from "./openQuestions.js";
import { readTables } from "./readTables.js";
import { identifiersOf } from "./write/cellGuard.js";
import { addCodes, codeTableText, readCodeTable } from "./write/codeTable.js";
import { type ColumnPlan, columnPlan } from "./write/columnPlan.js";
import { codeWord } from "./write/fates.js";
import { studyColumns } from "./write/studyColumns.js";
import { writeStudyFile } from "./write/studyFile.js";

export interface PrepareOptions extends RunOptions {
  /** The folder of the study files; made where it does not exist. */
  readonly to: string;
  /** The folder of the key table, which is not passed on; by default `to` with "-key" behind. */
  readonly key?: string;
}

/** What becomes of one column. */
export interface PreparedColumn {
  readonly column: string;
  readonly is: string;
  readonly fate: string | null;
  readonly because: string;
  readonly filled: number;
  /** Filled cells that the study file does not have, and why. */
  readonly loses: number;
  readonly lost: string;
  readonly examples: readonly string[];
}

export interface PreparedFile {
  readonly file: string;
  readonly as: string;
  readonly holds: readonly string[] | null;
  readonly rowCount: number;
  readonly columns: readonly PreparedColumn[];
  /** Rows of another width than the header, and rows without an id. */
  readonly rowsLeftOut: number;
  /** The first lines of them. */
  readonly linesLeftOut: readonly number[];
}

/** What was found in raw files, what was decided, and what is still asked. */
export interface Preparation {
  readonly kind: "preparation";
  /** Whether the study files were written. */
  readonly written: boolean;
  readonly files: readonly PreparedFile[];
  /** What only a person can say; while there is one, no study file is written. */
  readonly questions: readonly OpenQuestion[];
  /** What would be lost and nobody has seen yet; while there is something, no study file is written. */
  readonly unseenLosses: readonly {
    readonly file: string;
    readonly column: string | null;
    readonly loses: number;
  }[];
  readonly link: IdMatches & { readonly ignored: readonly Ignorable[]; readonly matched: number };
  /** Dates that cannot be in this order; listed, never repaired. The child is a study number. */
  readonly outOfOrder: readonly {
    readonly file: string;
    readonly line: number;
    readonly child: string;
    readonly what: string;
  }[];
  /** The answers as they stand, with what is open as null. */
  readonly choices: PreparationChoices;
  readonly mapping: ColumnMapping | null;
  readonly leftOut: readonly LeftOut[];
  readonly look: readonly string[];
  readonly note: string;
}

const secret = { caller: "prepareFiles", private: true };

const note =
  "Fewer identifiers are not none: rare values and combinations of them can still single out a child. The key " +
  "table is the only way back; it is kept apart and never passed on.";

/**
 * From raw exports to study-ready files: random study numbers shared by all files, days from each child's first
 * screening in place of dates, ages in completed months in place of dates of birth, codes in place of sites and
 * examiners, no column that identifies, a whole column mapping, and a report of the link. The key table goes to
 * a folder of its own that its owner alone can read; an existing one is continued.
 *
 * Nothing is guessed and nothing is lost unasked: what only a person can say (day or month first, what to ignore
 * of ids) stands as null in `choices`, and every loss with its count. While something is open, or a loss has not
 * been seen, only `prepare.json` is written; the next call takes it as `choices`.
 *
 * @param files paths of two or more CSV, TSV, XLSX or Parquet files, or of one that holds everything
 * @param choices the content of `prepare.json`, or undefined for the first call
 * @throws InputError for files that cannot be read, choices of other files, and a key table of other ids
 *
 * @example
 * import { mkdtempSync, writeFileSync } from "node:fs";
 * import { tmpdir } from "node:os";
 * const folder = mkdtempSync(`${tmpdir()}/prepare-`);
 * writeFileSync(`${folder}/screening.csv`, "Pupil ID,Seen on,R sph,R cyl,R axis\n0012,2026-03-10,+1.25,-0.50,90\n0013,2026-03-10,-0.75,0.00,0\n");
 * writeFileSync(`${folder}/exam.csv`, "Pupil ID,Exam date,R sph,R cyl,R axis,Drops\n0012,2026-04-09,+2.00,-0.50,95,yes\n");
 * const files = [`${folder}/screening.csv`, `${folder}/exam.csv`];
 * const first = await prepareFiles(files, undefined, { to: `${folder}/study` });
 * [first.link.matched, first.written] // => [1, true]
 */
export async function prepareFiles(
  files: readonly string[],
  choices: object | undefined,
  options: PrepareOptions,
): Promise<Preparation> {
  const { to, key = `${to.replace(/[\\/]+$/, "")}-key` } = options;
  requireFolders(files, to, key);
  await mkdir(dirname(resolve(key)), { recursive: true });
  // two runs that continue one key table come one after the other
  return whileLocked(key, { caller: "prepareFiles" }, () =>
    prepareAlone(files, choices, { ...options, key }),
  );
}

async function prepareAlone(
  files: readonly string[],
  choices: object | undefined,
  { to, key, signal, onProgress }: PrepareOptions & { readonly key: string },
): Promise<Preparation> {
  const given = choices === undefined ? null : defineChoices(choices);
  const answers = files.map((path) => given?.files.find(({ file }) => file === basename(path)));
  requireSameFiles(files, given);
  const read = await readTables(files, answers, { signal, onProgress });
  const tables = read.map(({ table }) => table);
  const detected = detectFiles(tables, answers.map(saidOf));
  const subjectAt = detected.map(({ columns }) => columns.findIndex(({ is }) => is === "subject"));
  const link = linkOf(tables, detected, subjectAt);
  const ignored = given?.ids?.ignore ?? (link.best.ignore.length === 0 ? [] : null);
  if (ignored !== null) requireNoCollisions(link, ignored);
  const { ids, childOf } = linkChildren(tables, subjectAt, ignored ?? [], isNoId);
  const keyFile = join(key, "children.csv");
  const known = await readKeyTable(keyFile, "prepareFiles");
  const ignoring = (ignored ?? []).join("+");
  if (known.numbers.size > 0 && ignored !== null && known.ignoring !== ignoring) {
    throw new InputError(
      `prepareFiles requires a key table of ids compared in the same way, got one that ignores ${known.ignoring || "nothing"} ` +
        `and choices that ignore ${ignoring || "nothing"}; name another folder for the key`,
    );
  }
  const dates = childDates(tables, detected, childOf, ids.length, (child) =>
    known.zeros.get(ids[child]),
  );
  const identifiers = identifiersOf(detected.flatMap(({ columns }) => columns));
  const plans = tables.map((table, file) =>
    detected[file].columns.map((column, at) =>
      columnPlan(
        table,
        at,
        column,
        ownChoice(answers[file]?.columns, column.column),
        identifiers,
        dates.dates[file].get(at),
      ),
    ),
  );
  const rows = tables.map((_, file) => rowsWithChild(childOf[file]));
  const left = tables.map((table, file) =>
    // without a column of ids every row would be one without a child
    subjectAt[file] < 0 ? [] : linesLeftOut(table, childOf[file]),
  );
  const questions = openQuestions({
    read,
    detected,
    plans,
    answers,
    link,
    ignored,
    period: given?.period,
  });
  const unseenLosses = lossesUnseen();
  const full = choicesOf({
    read,
    detected,
    plans,
    answers,
    left,
    link,
    ignored,
    period: given?.period,
  });
  const ready = questions.length === 0 && unseenLosses.length === 0;
  const numbers = randomPseudonyms(ids, known.numbers);
  const result = {
    kind: "preparation" as const,
    files: preparedFiles(),
    questions,
    unseenLosses,
    link: {
      ...link,
      ignored: ignored ?? [],
      matched: matchOf(idLists(tables, subjectAt, detected), ignored ?? []).matched,
    },
    outOfOrder: dates.outOfOrder.map(({ child, ...one }) => ({
      ...one,
      child: ready ? (numbers.get(ids[child]) ?? "") : "",
    })),
    choices: full,
    note,
  };
  await mkdir(to, { recursive: true });
  await writeJson("prepare.schema.json", choicesJsonSchema());
  if (!ready) {
    await writeJson("prepare.json", full);
    return { ...result, written: false, mapping: null, leftOut: [], look: [] };
  }
  const codes = await readCodeTable(join(key, "codes.csv"));
  for (const { fate, detected: column } of plans.flat()) {
    if (fate === "code") addCodes(codes, codeWord(column.is), column.facts.cells.keys());
  }
  const zeros = new Map(known.zeros);
  ids.forEach((id, child) => {
    if (!Number.isNaN(dates.zeros[child])) zeros.set(id, dates.zeros[child]);
  });
  const study = studyColumns({
    tables,
    detected,
    plans,
    dates,
    childOf,
    numberOf: ids.map((id) => numbers.get(id) ?? ""),
    codes,
    period: given?.period,
  });
  const proposed = proposeMapping(study.map(({ file }) => file));
  await mkdir(key, { recursive: true, mode: 0o700 });
  const written: string[] = [];
  try {
    await writeFileWhole(keyFile, keyTableText({ numbers, zeros, ignoring }), secret);
    await writeFileWhole(join(key, "codes.csv"), codeTableText(codes), secret);
    const rank = rankOf(ids.map((id) => numbers.get(id) ?? ""));
    for (const [file, { columns }] of study.entries()) {
      signal?.throwIfAborted();
      const path = join(to, full.files[file].as);
      await writeStudyFile(path, columns, inOrderOf(rows[file], childOf[file], rank), (done) =>
        onProgress?.({ stage: `writing ${full.files[file].as}`, done }),
      );
      written.push(path);
    }
    await writeJson("columns.json", { $schema: "./columns.schema.json", ...proposed.mapping });
    await writeJson("columns.schema.json", columnsJsonSchema());
    await writeJson("link.json", {
      kind: "link-report",
      files: files.map((path) => basename(path)),
      ...result.link,
      outOfOrder: result.outOfOrder,
    });
    await writeJson("prepare.json", full);
  } catch (error) {
    await Promise.all(written.map((path) => rm(path, { force: true })));
    throw error;
  }
  return { ...result, written: true, ...proposed };

  function writeJson(name: string, content: object): Promise<void> {
    return writeFileWhole(join(to, name), `${JSON.stringify(content, null, 2)}\n`, {
      caller: "prepareFiles",
    });
  }

  function lossesUnseen(): Preparation["unseenLosses"] {
    return tables.flatMap(({ file }, at) => {
      const rowsLost = left[at].length;
      const ofRows =
        rowsLost > (answers[at]?.rowsLeftOut ?? 0) ? [{ file, column: null, loses: rowsLost }] : [];
      const ofColumns = plans[at].flatMap(({ detected: { column }, loses }) => {
        const seen = ownChoice(answers[at]?.columns, column)?.loses ?? 0;
        return loses > seen ? [{ file, column, loses }] : [];
      });
      return [...ofRows, ...ofColumns];
    });
  }

  function preparedFiles(): PreparedFile[] {
    return tables.map((table, at) => ({
      file: table.file,
      as: full.files[at].as,
      holds: detected[at].holds,
      rowCount: table.n,
      rowsLeftOut: left[at].length,
      linesLeftOut: left[at].slice(0, 3),
      columns: plans[at].map(preparedColumn),
    }));
  }
}

function preparedColumn({ detected, fate, loses, lost, examples }: ColumnPlan): PreparedColumn {
  const { column, is, because, facts } = detected;
  return { column, is, fate, because, filled: facts.filled, loses, lost, examples };
}

const isOf: Readonly<Partial<Record<Fate, Role>>> = {
  number: "subject",
  keep: "other",
  code: "other",
};

/** What was said of a file; a fate alone says what an unknown column is. */
function saidOf(choices: FileChoices | undefined): FileAnswers {
  if (choices === undefined) return {};
  const columns = Object.entries(choices.columns).map(([name, choice]) => {
    const is = choice.is ?? (choice.fate == null ? null : (isOf[choice.fate] ?? null));
    return [name, { ...choice, is }];
  });
  return { holds: choices.holds, columns: Object.fromEntries(columns) };
}

/** A choice of a column by its name, whatever the name. */
export function ownChoice<Choice>(
  choices: Readonly<Record<string, Choice>> | undefined,
  column: string,
): Choice | undefined {
  return choices !== undefined && Object.hasOwn(choices, column) ? choices[column] : undefined;
}

function isNoId(text: string): boolean {
  return text === "" || isBlankMark(text);
}

function idLists(
  tables: readonly CodedTable[],
  subjectAt: readonly number[],
  detected: readonly DetectedFile[],
): string[][] {
  const lists = tables.map((_, file) => {
    const subject = detected[file].columns.at(subjectAt[file]);
    if (subjectAt[file] < 0 || subject === undefined) return [];
    return [...subject.facts.cells.keys()].filter((text) => !isNoId(text));
  });
  const measured = lists.filter((_, file) => hasMeasurements(detected[file].columns));
  return measured.length < 2 ? lists : measured;
}

function linkOf(
  tables: readonly CodedTable[],
  detected: readonly DetectedFile[],
  subjectAt: readonly number[],
): IdMatches {
  const lists = idLists(tables, subjectAt, detected);
  return lists.length < 2
    ? {
        children: lists.map((list) => list.length),
        matches: [matchOf(lists, [])],
        best: matchOf(lists, []),
      }
    : idMatches(lists);
}

function rowsWithChild(childOf: Int32Array): Int32Array {
  const rows = new Int32Array(childOf.length);
  let n = 0;
  for (let row = 0; row < childOf.length; row++) if (childOf[row] >= 0) rows[n++] = row;
  return rows.subarray(0, n);
}

function linesLeftOut(table: CodedTable, childOf: Int32Array): number[] {
  const lines = table.rejected.flatMap(({ row }) => (row === null ? [] : [row]));
  for (let row = 0; row < childOf.length; row++) if (childOf[row] < 0) lines.push(table.line[row]);
  return lines.sort((one, other) => one - other);
}

/** Each child's place when the study numbers are sorted. */
function rankOf(numbers: readonly string[]): Int32Array {
  const order = Float64Array.from(numbers, (number) => Number(number.slice(1)));
  const children = Uint32Array.from(numbers, (_, child) => child).sort(
    (a, b) => order[a] - order[b],
  );
  const rank = new Int32Array(numbers.length);
  for (let place = 0; place < children.length; place++) rank[children[place]] = place;
  return rank;
}

/** Rows by their child's place; those of one child as they stand in the file. */
function inOrderOf(rows: Int32Array, childOf: Int32Array, rank: Int32Array): Int32Array {
  const starts = new Int32Array(rank.length + 1);
  for (const row of rows) starts[rank[childOf[row]] + 1]++;
  for (let place = 1; place < starts.length; place++) starts[place] += starts[place - 1];
  const sorted = new Int32Array(rows.length);
  for (const row of rows) sorted[starts[rank[childOf[row]]]++] = row;
  return sorted;
}

function requireFolders(files: readonly string[], to: string, key: string): void {
  if (files.length === 0) throw new InputError("prepareFiles requires a file, got none");
  if (resolve(to) === resolve(key)) {
    throw new InputError(
      "prepareFiles requires a folder of its own for the key table, got that of the study files",
    );
  }
  const inTo = files.find((path) => resolve(path, "..") === resolve(to));
  if (inTo !== undefined) {
    throw new InputError(
      `prepareFiles requires another folder for the study files than that of ${basename(inTo)}, got the same; name a new one`,
    );
  }
}

function requireSameFiles(files: readonly string[], given: PreparationChoices | null): void {
  if (given === null) return;
  const names = files.map((path) => basename(path));
  const others = given.files.map(({ file }) => file).filter((file) => !names.includes(file));
  const missing = names.filter((name) => !given.files.some(({ file }) => file === name));
  if (others.length + missing.length > 0) {
    throw new InputError(
      `prepareFiles requires choices of the same files, got choices of ${given.files.map(({ file }) => file).join(", ")} and the ` +
        `files ${names.join(", ")}; give the same files, or begin anew in another folder`,
    );
  }
}

function requireNoCollisions(link: IdMatches, ignored: readonly Ignorable[]): void {
  const chosen = link.matches.find(({ ignore }) => ignore.join() === ignored.join());
  if (ignored.length === 0 || (chosen?.collisions ?? 0) === 0) return;
  throw new InputError(
    `prepareFiles requires ids that stay apart, got ${chosen?.collisions} that would become another child's when ` +
      `${ignored.join(" and ")} are ignored; ignore less`,
  );
}
