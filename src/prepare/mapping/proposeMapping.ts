import type { ColumnMapping, Eye, FindingBlock, ReadingBlock } from "../../cohort/index.js";
import type { EyesInCell } from "../../refraction/index.js";
import { share } from "../detect/cellForms.js";
import type { DetectedColumn, DetectedFile, Holds } from "../detect/detected.js";
import { measuredRoles } from "../detect/measurementKind.js";
import { eyeReader } from "../detect/wordLists.js";
import { identifiersOf } from "../write/cellGuard.js";
import { examplesOf } from "../write/examplesOf.js";
import { agesOf, agesOfFile, sharedUnit } from "./ages.js";
import { findingWords, readingWords } from "./blockWords.js";
import { cylinderSign } from "./cylinderSign.js";
import { flagRoles, keysOf, rowKey, rowRoles } from "./keysOf.js";
import { blankMarks, codesForNothing, powerMarks } from "./marks.js";
import { numbersBeyond } from "./numbersBeyond.js";
import { canBeOwn, ownOf } from "./ownColumns.js";
import { whyLeftOut } from "./whyLeftOut.js";
import { codesOf, wordCodes } from "./wordCodes.js";

/** A column that the mapping does not read, and why. */
export interface LeftOut {
  readonly file: string;
  readonly column: string;
  readonly why: string;
  /** Up to three cells, masked where they could say who a child is. */
  readonly examples: readonly string[];
}

export interface ProposedMapping {
  readonly mapping: ColumnMapping;
  readonly leftOut: readonly LeftOut[];
  /** What was taken for granted and a person should look at. */
  readonly look: readonly string[];
}

type Names = Record<string, string>;
/** Names of columns; ages may be several. */
type RowNames = Record<string, string | NonNullable<ColumnMapping["columns"]["age"]>>;

/**
 * A whole column mapping for files whose columns were recognised, which `auditFile` and the readers take as
 * it stands: signs of cylinders are counted, words turned into codes, marks into what they stand for.
 */
export function proposeMapping(
  files: readonly DetectedFile[],
  text: ColumnMapping["text"] = undefined,
): ProposedMapping {
  const look: string[] = [];
  const used = new Set<DetectedColumn>();
  const measured = files.filter(({ holds }) => holds !== null && holds.length > 0);
  const ages = agesOf(measured);
  const unit = sharedUnit(ages);
  const shared = sharedRows();
  const found = { readings: blocksOf("readings"), findings: blocksOf("findings") };
  const read = new Set(used);
  const blocks = { readings: owned("readings"), findings: owned("findings") };
  const eyes = eyesOf(measured);
  const missing = [...blankMarks([...used]), ...codesForNothing([...used])];
  const comma = [...used].some(({ facts }) => facts.numbers.comma > 0);
  const mapping: ColumnMapping = {
    kind: "columns",
    version: 1,
    ...(text === undefined && !comma
      ? {}
      : { text: { ...text, ...(comma ? { decimal: "," as const } : {}) } }),
    ...(missing.length === 0 ? {} : { missing }),
    ...(eyes === null ? {} : { eyes }),
    ...(unit === null ? {} : { age: unit }),
    columns: { subject: subjectOf(measured), ...shared },
    ...(blocks.readings.length === 0 ? {} : { readings: blocks.readings as ReadingBlock[] }),
    ...(blocks.findings.length === 0 ? {} : { findings: blocks.findings as FindingBlock[] }),
  };
  for (const { file, holds } of measured) {
    for (const kind of holds ?? []) {
      if (blocks[kind].length > 0) continue;
      look.push(
        `no ${kind} can be read: ${file} has no sphere, no clinic notation and no stated equivalent whose eye is known`,
      );
    }
  }
  look.push(...numbersBeyond(measured));
  if (missing.length > 0)
    look.push(`taken for empty: ${missing.map((word) => `"${word}"`).join(", ")}`);
  const identifiers = identifiersOf(files.flatMap(({ columns }) => columns));
  const leftOut = files.flatMap(({ file, columns }) =>
    columns
      .filter((column) => !used.has(column) && column.is !== "subject")
      .map((column) => ({
        file,
        column: column.column,
        why: whyLeftOut(column),
        examples: examplesOf(column, identifiers),
      })),
  );
  return { mapping, leftOut, look };

  /** Columns of the row that all measured files call the same. */
  function sharedRows(): RowNames {
    const [first, ...others] = measured.map(rowsOf);
    if (first === undefined) return {};
    const same = Object.entries(first).filter(([key, name]) =>
      others.every((one) => JSON.stringify(one[key]) === JSON.stringify(name)),
    );
    return Object.fromEntries(same);
  }

  function rowsOf(file: DetectedFile): RowNames {
    const { columns } = file;
    const names: Names = {};
    for (const column of columns) {
      const { is } = column;
      if (is !== "subject" && !rowRoles.includes(is)) continue;
      if (column.eye !== null || names[rowKey(is)] !== undefined) continue;
      // a day of the other measurement in the row is that one's
      if (
        is === "day" &&
        column.of !== null &&
        columns.some((one) => one !== column && one.is === "day")
      )
        continue;
      names[rowKey(is)] = column.column;
      used.add(column);
    }
    const { age, used: aged } = agesOfFile(file, ages);
    for (const column of aged) used.add(column);
    return age === undefined ? names : { ...names, age };
  }

  function blocksOf(kind: Holds): { file: DetectedFile; blocks: object[] }[] {
    return measured.flatMap((file) => {
      if (!file.holds?.includes(kind)) return [];
      const powers = file.columns.filter(({ is, of }) => measuredRoles.has(is) && of === kind);
      const names = [...new Set(powers.map(({ block }) => block))];
      return {
        file,
        blocks: names.flatMap((name) => blockOf(file, kind, name, names.length) ?? []),
      };
    });
  }

  // every block of every file says first what it reads, so that what is left is left by all
  function owned(kind: Holds): object[] {
    return found[kind].flatMap((one) => withOwn(one.file, kind, one.blocks));
  }

  function blockOf(file: DetectedFile, kind: Holds, name: string, of: number): object | null {
    const list = keysOf(kind);
    const own = file.columns.filter(
      (column) =>
        (list[column.is] !== undefined || flagRoles.includes(column.is)) &&
        (column.block === name || (column.block === "" && !measuredRoles.has(column.is))) &&
        (column.of === kind || column.of === null),
    );
    const rows = Object.fromEntries(
      Object.entries({ ...rowsOf(file), ...dayOf(file, kind) }).filter(
        ([key, column]) =>
          JSON.stringify(shared[key]) !== JSON.stringify(column) &&
          (key !== "subject" || column !== subjectOf(measured)),
      ),
    );
    const part = (eye: Eye | null): RowNames | null => {
      const names: Names = {};
      for (const column of own) {
        const key = list[column.is];
        if (key === undefined || (column.eye !== null && column.eye !== eye)) continue;
        if (column.eyes !== null && eye === null) continue;
        if (
          eye !== null &&
          column.eye === null &&
          column.eyes === null &&
          measuredRoles.has(column.is)
        )
          continue;
        if (names[key] !== undefined) continue;
        if (key === "programmeDecision" && !saysDecision(column)) continue;
        if (
          key === "sphere" &&
          own.some(
            (one) => one.is === "prescription" && (one.eye === column.eye || one.eyes !== null),
          )
        )
          continue;
        names[key] = column.column;
        used.add(column);
      }
      const found = ["sphere", "prescription", "statedEquivalent"].some(
        (key) => names[key] !== undefined,
      );
      return found ? { ...names, ...rows } : null;
    };
    const right = part("right");
    const left = part("left");
    const both = right === null && left === null ? part(null) : null;
    const hasEye = file.columns.some(({ is }) => is === "eye");
    if (right === null && left === null && (both === null || !hasEye)) {
      look.push(`${file.file}: no column says which eye ${name || "the measurement"} is of`);
      return null;
    }
    const places =
      both === null ? { ...(right && { right }), ...(left && { left }) } : { columns: both };
    const columns = own.filter((column) => used.has(column));
    return {
      ...(kind === "readings" ? readingWords(columns, name, of) : findingWords(columns, name)),
      ...eyesInCell(columns),
      cylinder: cylinderSign(columns),
      ...powerMarks(columns),
      ...wordCodes(columns, kind),
      ...(kind === "findings" ? flagsOf(own) : {}),
      ...places,
    };
  }

  function dayOf(file: DetectedFile, kind: Holds): Names {
    const day = file.columns.find(({ is, of }) => is === "day" && of === kind);
    if (day === undefined) return {};
    used.add(day);
    return { day: day.column };
  }

  /** The blocks of a file with the columns that no block reads under labels of their own. */
  function withOwn(file: DetectedFile, kind: Holds, list: readonly object[]): object[] {
    const left = file.columns.filter(
      (column) =>
        canBeOwn(column) && !read.has(column) && (column.of === kind || column.of === null),
    );
    for (const column of left) used.add(column);
    const own = ownOf(left, (name) =>
      measured.flatMap(({ columns }) => columns.filter(({ column }) => column === name)),
    );
    return Object.keys(own).length === 0 ? [...list] : list.map((block) => ({ own, ...block }));
  }

  function flagsOf(own: readonly DetectedColumn[]): object {
    const flags = own.filter(({ is }) => flagRoles.includes(is));
    for (const column of flags) used.add(column);
    const label = (column: DetectedColumn) =>
      flags.filter(({ is }) => is === column.is).length > 1 ? column.column : column.is;
    return flags.length === 0
      ? {}
      : { flags: Object.fromEntries(flags.map((one) => [label(one), one.column])) };
  }
}

/** The words for each eye in the columns that say it of a row. */
function eyesOf(files: readonly DetectedFile[]): ColumnMapping["eyes"] | null {
  const words = files.flatMap(({ columns }) =>
    columns
      .filter(({ is }) => is === "eye")
      .flatMap(({ facts }) => {
        const read = eyeReader(facts.cells);
        return [...facts.cells.keys()].map((word) => [word, read(word)] as const);
      }),
  );
  // a file may hold one eye alone
  const wordsOf = (side: Eye) => {
    const own = [...new Set(words.flatMap(([word, eye]) => (eye === side ? [word] : [])))];
    return own.length === 0 ? [side] : own;
  };
  return words.length === 0 ? null : { right: wordsOf("right"), left: wordsOf("left") };
}

function eyesInCell(columns: readonly DetectedColumn[]): { eyesInCell?: EyesInCell } {
  const eyes = columns.find((column) => column.eyes !== null)?.eyes ?? null;
  return eyes === null ? {} : { eyesInCell: eyes };
}

/** Whether the words of most cells, or yes and no under the column's name, say what was decided. */
function saysDecision(column: DetectedColumn): boolean {
  const codes = codesOf(column) ?? {};
  return share(column.facts, (text) => Object.hasOwn(codes, text)) > 0.7;
}

/** The name of the subject's column; a block whose file calls it otherwise says so. */
function subjectOf(files: readonly DetectedFile[]): string {
  const names = files.flatMap(({ columns }) => columns.filter(({ is }) => is === "subject"));
  return names[0]?.column ?? "subject";
}
