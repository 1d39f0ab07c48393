import { columnsJsonSchema, keyTableText, readKeyTable } from "../cohort/index.js";
import {
  basename,
  dirname,
  join,
  makeFolders,
  removeFile,
  resolve,
  whileLocked,
  whileSame,
  writeFileWhole,
} from "../platform/index.js";
import { randomPseudonyms } from "../privacy/index.js";
import { InputError } from "../results/index.js";
import { choicesJsonSchema, defineChoices } from "./choices.js";
import { choicesOf } from "./choicesOf.js";
import { childDates } from "./dates/childDates.js";
import { detectFiles } from "./detect/detectFiles.js";
import { isNoId, linkOf, matchedChildren, requireNoCollisions } from "./ids/fileIds.js";
import { linkChildren } from "./ids/linkChildren.js";
import { proposeMapping } from "./mapping/proposeMapping.js";
import { lossesUnseen } from "./lossesUnseen.js";
import { openQuestions } from "./openQuestions.js";
import type { Preparation, PreparedColumn, PreparedFile, PrepareOptions } from "./preparation.js";
import { readTables } from "./readTables.js";
import {
  requireFolders,
  requireKnownColumns,
  requireNumbered,
  requireSameFiles,
} from "./requireFits.js";
import { ownChoice, saidOf } from "./saidOf.js";
import { identifiersOf } from "./write/cellGuard.js";
import { addCodes, codeTableText, readCodeTable } from "./write/codeTable.js";
import { type ColumnPlan, columnPlan } from "./write/columnPlan.js";
import { codeWord } from "./write/fates.js";
import { inOrderOf, linesLeftOut, rankOf, rowsWithChild } from "./write/rowOrder.js";
import { studyColumns } from "./write/studyColumns.js";
import { writeStudyFile } from "./write/studyFile.js";

const secret = { caller: "prepareFiles", private: true };

/** The schemas are the same in every run, and made once. */
const once = (make: () => object) => {
  let made: object | null = null;
  return () => (made ??= make());
};
const choicesSchema = once(choicesJsonSchema);
const columnsSchema = once(columnsJsonSchema);

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
  await makeFolders(dirname(resolve(key)));
  // two runs that continue one key table come one after the other
  return whileLocked(key, { caller: "prepareFiles" }, () =>
    whileSame("prepareFiles", files, () => prepareAlone(files, choices, { ...options, key })),
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
  requireKnownColumns(read, given);
  const tables = read.map(({ table }) => table);
  const detected = detectFiles(tables, answers.map(saidOf));
  const subjectAt = detected.map(({ columns }) => columns.findIndex(({ is }) => is === "subject"));
  const link = linkOf(tables, detected, subjectAt);
  const unread = read.some(({ sheets }) => sheets !== undefined);
  // an answer holds while no way of comparing matches more than it did then
  const { ignore = null, wouldMatch = link.best.matched } = given?.ids ?? {};
  const answered = link.best.matched <= wouldMatch ? ignore : null;
  const apart = link.children.length > 1 && link.best.matched === 0;
  const clear = link.best.ignore.length === 0 && !apart;
  const ignored = unread ? null : (answered ?? (clear ? [] : null));
  if (ignored !== null) requireNoCollisions(tables, subjectAt, ignored);
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
        detected[file].columns,
        ownChoice(answers[file]?.columns, column.column),
        identifiers,
        dates.dates[file].get(at),
      ),
    ),
  );
  requireNumbered(tables, plans);
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
  const unseenLosses = lossesUnseen(tables, plans, left, answers);
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
      matched: matchedChildren(tables, detected, subjectAt, link, ignored ?? []),
    },
    outOfOrder: dates.outOfOrder.map(({ child, ...one }) => ({
      ...one,
      child: ready ? (numbers.get(ids[child]) ?? "") : "",
    })),
    choices: full,
    note,
  };
  await makeFolders(to);
  await writeJson("prepare.schema.json", choicesSchema());
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
  const { study, look } = studyColumns({
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
  await makeFolders(key, { private: true });
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
    await writeJson("columns.schema.json", columnsSchema());
    await writeJson("link.json", {
      kind: "link-report",
      files: files.map((path) => basename(path)),
      ...result.link,
      outOfOrder: result.outOfOrder,
    });
    await writeJson("prepare.json", full);
  } catch (error) {
    await Promise.all(written.map((path) => removeFile(path)));
    throw error;
  }
  return { ...result, written: true, ...proposed, look: [...proposed.look, ...look] };

  function writeJson(name: string, content: object): Promise<void> {
    return writeFileWhole(join(to, name), `${JSON.stringify(content, null, 2)}\n`, {
      caller: "prepareFiles",
    });
  }

  function preparedFiles(): PreparedFile[] {
    return tables.map((table, at) => ({
      file: table.file,
      as: full.files[at].as,
      holds: read[at].sheets === undefined ? detected[at].holds : null,
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
