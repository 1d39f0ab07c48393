import { mkdtemp, rm } from "node:fs/promises";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { defineProtocol, sampleProtocol } from "../../../src/protocol/index.js";
import { InputError } from "../../../src/results/index.js";
import { runStudy, type StudyResult, writeReport } from "../../../src/study/index.js";
import type { Target } from "./agreementPuzzle.js";
import { writeCohort } from "./cohort.js";
import { puzzleOf } from "./puzzleOf.js";
import { Solver } from "./solver.js";
import { type Useful, usefulness } from "./usefulness.js";
import { numbersIn, tablesIn, writtenTexts } from "./writtenTexts.js";

export interface StudyAttack {
  readonly seed: number;
  readonly shape: readonly string[];
  readonly children: number;
  /** Why the study was refused, where it was. */
  readonly refused?: string;
  /** Small counts tried, and those of which the files say more than that they are small. */
  readonly tried: number;
  readonly disclosed: readonly string[];
  /** Numbers that a file has and neither the Markdown report nor a figure has. */
  readonly elsewhere: readonly string[];
  /** Printed sums that the truth does not fit: faults of the attack itself. */
  readonly mistakes: readonly string[];
  readonly useful?: Useful;
  readonly files: number;
}

/** A random cohort, studied, written as every file for the public, read back and attacked. */
export async function attackStudy(seed: number, outputs: readonly string[]): Promise<StudyAttack> {
  const folder = await mkdtemp(join(tmpdir(), "meridional-team-"));
  try {
    const { protocol, shape, children } = await writeCohort(seed, folder, outputs);
    const none = {
      seed,
      shape,
      children,
      tried: 0,
      disclosed: [],
      elsewhere: [],
      mistakes: [],
      files: 0,
    };
    let result: StudyResult;
    try {
      result = await runStudy(defineProtocol(protocol), { folder });
    } catch (error) {
      if (!(error instanceof InputError)) throw error;
      return { ...none, refused: error.message };
    }
    const report = join(folder, "report");
    await writeReport(result, report);
    const files = await writtenTexts(report);
    return {
      ...none,
      files: files.size,
      ...(await attackFiles(result, files, folder)),
      useful: usefulness(result, files),
    };
  } finally {
    await rm(folder, { recursive: true, force: true });
  }
}

async function attackFiles(
  result: StudyResult,
  files: ReadonlyMap<string, string>,
  folder: string,
): Promise<Pick<StudyAttack, "tried" | "disclosed" | "elsewhere" | "mistakes">> {
  const own = await attackSample(result, files, folder);
  if (result.validation === undefined) return { ...own, elsewhere: elsewhere(files) };
  // children of one sample are in no sum with those of the other
  const second = await attackSample(secondSample(result), secondFiles(files), folder);
  return {
    tried: own.tried + second.tried,
    disclosed: [...own.disclosed, ...second.disclosed.map((name) => `validation sample, ${name}`)],
    mistakes: [...own.mistakes, ...second.mistakes],
    elsewhere: elsewhere(files),
  };
}

const suffix = ", validation sample";

/** The second sample as a study of its own. */
function secondSample({ validation, ...result }: StudyResult): StudyResult {
  const protocol = sampleProtocol(result.protocol, "validation");
  return { ...result, ...validation!, protocol, programme: null, astigmatism: null };
}

/** Its tables, under the titles of a study of one sample; it has no figures. */
function secondFiles(files: ReadonlyMap<string, string>): ReadonlyMap<string, string> {
  const tables = files
    .get("report.md")!
    .split(/^(?=\*\*Table \d+\. )/m)
    .slice(1)
    .map((part) => part.split(/^(?:## |!\[)/m)[0]!)
    .filter((part) => part.split("\n")[0]!.includes(suffix));
  return new Map([["report.md", tables.join("").replaceAll(suffix, "")]]);
}

async function attackSample(
  result: StudyResult,
  files: ReadonlyMap<string, string>,
  folder: string,
): Promise<Pick<StudyAttack, "tried" | "disclosed" | "mistakes">> {
  const tables = tablesIn(files.get("report.md")!).filter(({ title }) => !title.includes(suffix));
  const { puzzle, targets } = puzzleOf(result, tables, files);
  const mistakes = puzzle.mistakes();
  if (mistakes.length > 0) return { tried: targets.length, disclosed: [], mistakes };
  const found = new Solver(puzzle).ranges([...new Set(targets.map(({ name }) => name))], 0, 10);
  const narrowed = targets.filter(
    ({ name }) => found.get(name)![0] > 0 || found.get(name)![1] < 10,
  );
  const isSmall = await Promise.all(
    narrowed.map(async ({ name, rows, isOpen }) =>
      // a count of more than 10 keeps its secret
      rows === undefined && isOpen === undefined
        ? true
        : found.get(name)![0] <= 10 &&
          (rows === undefined || (await rowsIn(result, rows, folder)) <= 10),
    ),
  );
  return {
    tried: targets.length,
    disclosed: narrowed
      .filter((_, at) => isSmall[at])
      .map(({ name }) => `${name}: ${found.get(name)!.join(" to ")}`),
    mistakes,
  };
}

/** Rows of the agreement in some cells, counted from what a journal sees of each; 0 where it sees counts. */
async function rowsIn(
  { protocol }: StudyResult,
  { quantity, cells, from, to, isWithin }: NonNullable<Target["rows"]>,
  folder: string,
): Promise<number> {
  const journal = await runStudy({ ...protocol, audience: "journal", subgroups: [] }, { folder });
  const { shown } = journal.agreement.find((one) => one.quantity === quantity)!;
  if (shown.kind !== "rounded-pairs") return 0;
  // quarters of dioptres of two readings: means are sixteenths of M, and differences eighths
  const exact = (value: number) => (quantity === "M" ? Math.round(16 * value) / 16 : value);
  const pairs = shown.pairs.map(({ x, y }) => ({ x: exact(x), y: exact(y) }));
  return pairs.filter(
    ({ x, y }) =>
      cells.some((cell) => x >= cell.x && x < cell.x2 && y >= cell.y && y < cell.y2) &&
      (y >= from && y <= to) === isWithin,
  ).length;
}

/** Numbers of any file that are neither in the Markdown report nor in a figure, nor of a source. */
function elsewhere(files: ReadonlyMap<string, string>): string[] {
  const isRead = (path: string) =>
    path === "report.md" || path.endsWith(".svg") || path.endsWith(".bib");
  const read = new Set(
    [...files].filter(([path]) => isRead(path)).flatMap(([, text]) => [...numbersIn(text)]),
  );
  // shares stand as parts of 1 in tables of numbers, as percent in print
  const isKnown = (number: number) =>
    read.has(number) || read.has(Number((100 * number).toFixed(6)));
  return [...files].flatMap(([path, text]) =>
    isRead(path)
      ? []
      : [...numbersIn(text)]
          .filter((number) => !isKnown(number))
          .map((number) => `${path}: ${number}`),
  );
}
