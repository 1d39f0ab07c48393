import { type CodedTable, dateOrders } from "../../cohort/index.js";
import { looksLikeNames } from "../../privacy/index.js";
import { matchOf } from "../ids/linkReport.js";
import { ignorable } from "../ids/normaliseId.js";
import { type ColumnFacts, columnFacts } from "./columnFacts.js";
import { dateColumn } from "./dateColumn.js";
import { acuityNotation, ageUnit } from "./details.js";
import type {
  ColumnAnswers,
  DetectedColumn,
  DetectedFile,
  FileAnswers,
  Question,
} from "./detected.js";
import { hasMeasurements, holdsOf, measuredRoles, sideOf } from "./measurementKind.js";
import {
  birthWords,
  childWords,
  eitherDateWords,
  idWords,
  kindsOfCells,
  mayBeDate,
  otherDateWords,
  type Role,
  roleOf,
  roles,
  share,
} from "./roles.js";
import { eyeOf, yesNoOf } from "./wordLists.js";

/**
 * What each column of each file is: by its name, its cells and their forms together, and the ids also by
 * whether they match those of the other files. What a person has said holds; what nobody can tell from the
 * files is asked, never guessed.
 */
export function detectFiles(
  tables: readonly CodedTable[],
  answers: readonly FileAnswers[] = [],
): DetectedFile[] {
  const facts = tables.map((table) => table.header.map((_, at) => columnFacts(table, at)));
  const roleLists = facts.map((columns, file) =>
    columns.map((one) => {
      const said = answers[file]?.columns?.[one.column]?.is;
      return said ?? roleAlone(one, tables[file], columns);
    }),
  );
  roleLists.forEach((list, file) => {
    addEyeByCells(list, facts[file]);
    addSingleLetters(list, facts[file]);
  });
  const subjects = subjectColumns(facts, roleLists, answers);
  const files = tables.map((table, file) => {
    const columns = facts[file].map((one, at) => {
      const given = answers[file]?.columns?.[one.column] ?? {};
      return settled(one, roleOfColumn(file, at), given, ambiguous(file, at));
    });
    return { file: table.file, columns: withBlocks(columns) };
  });
  const holds = holdsOf(
    files,
    answers.map((one) => one.holds),
  );
  return files.map(({ file, columns }, at) => ({
    file,
    holds: holds[at],
    columns: columns.map((column) => {
      const of = column.of ?? sideOf(column, columns, holds[at]);
      const said = answers[at]?.columns?.[column.column]?.is != null;
      const doubt = said ? [] : doubtsOf({ ...column, of }, columns);
      return { ...column, of, questions: [...column.questions, ...doubt] };
    }),
  }));

  function roleOfColumn(file: number, at: number): Role | null {
    const said = answers[file]?.columns?.[facts[file][at].column]?.is;
    if (said != null) return said;
    const role = roleLists[file][at];
    const { chosen, rivals } = subjects[file];
    if (at === chosen) return "subject";
    // another id of the child, by its name and its cells
    const { words, cells, filled } = facts[file][at];
    const isCode = idWords.test(words) && cells.size > filled / 3;
    if (role === null && rivals.includes(at) && isCode) return "record-number";
    return role;
  }

  /** Whether another column could be the subject as well, and nobody has said which. */
  function ambiguous(file: number, at: number): boolean {
    const { chosen, sure } = subjects[file];
    return at === chosen && !sure;
  }
}

function roleAlone(
  facts: ColumnFacts,
  table: CodedTable,
  all: readonly ColumnFacts[],
): Role | null {
  if (isRowNumber(facts, table, all)) return "row-number";
  const idLike = idWords.test(facts.words) && !mayBeDate(facts);
  const powerLike = facts.notation >= 0.5;
  if (!idLike && !powerLike && dateColumn(facts.cells, { serials: mayBeDate(facts) }) !== null) {
    if (birthWords.test(facts.words)) return "birth-date";
    return otherDateWords.test(facts.words) &&
      !/\b(screen\w*|exam\w*|visit|test)\b/.test(facts.words)
      ? "other-date"
      : "date";
  }
  return roleOf(facts);
}

/** 1, 2, 3 ... down the file, under a name for that, or beside a column that names the child. */
function isRowNumber(facts: ColumnFacts, table: CodedTable, all: readonly ColumnFacts[]): boolean {
  const { numbers, filled, rows, words } = facts;
  if (filled < rows || numbers.share < 1 || numbers.whole < 1 || facts.cells.size < rows)
    return false;
  if (numbers.low > 1 || numbers.high - numbers.low + 1 > 1.05 * rows + 1) return false;
  if (
    /^(row|line|seq|sequence|index|sr|sl|s|entry|lfd|n|no|nr|number|unnamed 0|rownum|rowid)( (no|nr|num|number|id))?$/.test(
      words,
    )
  ) {
    return true;
  }
  const at = all.indexOf(facts);
  const { codes, labels } = table.columns[at];
  const rising = codes.every(
    (code, row) => row === 0 || Number(labels[code]) > Number(labels[codes[row - 1]]),
  );
  const others = all.some(
    (one) => one !== facts && childWords.test(one.words) && idWords.test(one.words),
  );
  return rising && others && !childWords.test(words);
}

/** A column whose cells are words for the eyes is the eye where no name says so. */
function addEyeByCells(list: (Role | null)[], facts: readonly ColumnFacts[]): void {
  if (list.includes("eye")) return;
  const found = facts.flatMap((one, at) => {
    const words = [...one.cells.keys()];
    const sides = new Set(words.map(eyeOf));
    return words.length <= 6 && sides.size === 2 && !sides.has(null) ? [at] : [];
  });
  if (found.length === 1 && list[found[0]] === null) list[found[0]] = "eye";
}

const letters: Readonly<Record<string, Role>> = {
  s: "sphere",
  c: "cylinder",
  a: "axis",
  x: "axis",
};

/** What only the other columns, or the kind of the file, make doubtful. */
function doubtsOf(column: DetectedColumn, columns: readonly DetectedColumn[]): Question[] {
  const { is, of } = column;
  const dated = columns.filter(
    (one) => one.is === "date" || one.is === "day" || one.is === "other-date",
  );
  const only = dated.length === 1 || eitherDateWords.test(column.facts.words);
  if (is === "other-date" && only && hasMeasurements(columns)) {
    const ask = "whether this date is that of the measurement";
    return [{ key: "is", ask, allowed: ["date", "other-date"] }];
  }
  if (is === "correction" && of === "findings") {
    const ask = "whether this says what was worn at the exam, or what was prescribed";
    return [{ key: "is", ask, allowed: ["correction", "glasses-prescribed", "other"] }];
  }
  if (measuredRoles.has(is) && column.eye === null && !columns.some((one) => one.is === "eye")) {
    return [{ key: "eye", ask: "which eye this is of", allowed: ["right", "left"] }];
  }
  return [];
}

/** S, C and A as names, where all three stand side by side and their cells are such numbers. */
function addSingleLetters(list: (Role | null)[], facts: readonly ColumnFacts[]): void {
  const groups = new Map<string, Map<string, number>>();
  facts.forEach((one, at) => {
    const [key, letter] = letterOf(one) ?? [];
    if (key === undefined || letter === undefined || list[at] !== null) return;
    const group = groups.get(key) ?? new Map<string, number>();
    group.set(letter === "x" ? "a" : letter, at);
    groups.set(key, group);
  });
  for (const group of groups.values()) {
    const fits = ["s", "c", "a"].every((letter) => {
      const at = group.get(letter);
      if (at === undefined) return false;
      const { numbers, filled } = facts[at];
      const most = letter === "a" ? 180 : 30;
      return filled === 0 || (numbers.share > 0.4 && Math.abs(numbers.middle) <= most);
    });
    if (fits) for (const [letter, at] of group) list[at] = letters[letter];
  }
}

/** The letter that a name ends with, or begins or ends with beside the eye's, as in "R S", "RS" and "S_OD". */
function letterOf({ bare, words, eye }: ColumnFacts): [string, string] | null {
  const plain = bare.replace(/\b(d|dpt|dptr|deg|degrees|diopt\w*)$/, "").trim();
  const [, rest, letter] = /^(.*?)\b([scax])$/.exec(plain) ?? [];
  if (letter !== undefined) return [`${eye} ${rest}`, letter];
  const [, before, last] = /^(od|os|r|l|re|le)([scax])$/.exec(words) ?? [];
  if (last !== undefined) return [`glued ${before}`, last];
  const [, first, after] = /^([scax])(od|os|r|l|re|le)$/.exec(words) ?? [];
  return first === undefined ? null : [`glued ${after}`, first];
}

interface SubjectChoice {
  readonly chosen: number;
  readonly rivals: readonly number[];
  readonly sure: boolean;
}

/** The column of each file that says which child a row belongs to. */
function subjectColumns(
  facts: readonly (readonly ColumnFacts[])[],
  roleLists: readonly (readonly (Role | null)[])[],
  answers: readonly FileAnswers[],
): SubjectChoice[] {
  const candidates = facts.map((columns, file) =>
    columns.flatMap((one, at) => {
      const said = answers[file]?.columns?.[one.column]?.is;
      if (said === "subject") return [{ at, score: 100 }];
      if (said != null) return [];
      const role = roleLists[file][at];
      if (role !== null && role !== "record-number" && role !== "row-number") return [];
      if (one.filled < 0.8 * one.rows || one.numbers.point + one.numbers.comma > one.filled / 2)
        return [];
      if (one.cells.size < Math.max(one.rows > 3 ? 2 : 1, one.rows / 40)) return [];
      const score = (childWords.test(one.words) ? 2 : 0) + (idWords.test(one.words) ? 1 : 0);
      return role === "row-number" ? [{ at, score: score - 3 }] : [{ at, score }];
    }),
  );
  const idsOf = (file: number, at: number) => [...facts[file][at].cells.keys()];
  const chosen = new Map<number, { at: number; sure: boolean }>();
  const pairs = facts.flatMap((_, one) =>
    facts.slice(one + 1).map((_, k) => [one, one + 1 + k] as const),
  );
  const overlaps = pairs.flatMap(([one, other]) =>
    candidates[one].flatMap((first) =>
      candidates[other].map((second) => {
        const alone = candidates[one].length === 1 && candidates[other].length === 1;
        const ids = [idsOf(one, first.at), idsOf(other, second.at)];
        const least = Math.min(ids[0].length, ids[1].length);
        const overlap = alone ? 1 : matchOf(ids, ignorable).matched / least;
        return {
          one,
          other,
          first,
          second,
          overlap,
          value: overlap + 0.1 * (first.score + second.score),
        };
      }),
    ),
  );
  for (const pair of overlaps.toSorted((a, b) => b.value - a.value)) {
    if (pair.overlap < 0.1 && pair.first.score + pair.second.score < 4) continue;
    const fixed = [
      [pair.one, pair.first],
      [pair.other, pair.second],
    ] as const;
    if (fixed.some(([file, { at }]) => chosen.has(file) && chosen.get(file)?.at !== at)) continue;
    for (const [file, { at }] of fixed) {
      if (!chosen.has(file)) chosen.set(file, { at, sure: pair.overlap >= 0.1 });
    }
  }
  return facts.map((_, file) => {
    const sorted = candidates[file].toSorted((a, b) => b.score - a.score);
    const rivals = candidates[file].map(({ at }) => at);
    const pick = chosen.get(file);
    if (pick !== undefined) return { chosen: pick.at, rivals, sure: pick.sure };
    const [first, second] = sorted;
    if (first === undefined) return { chosen: -1, rivals, sure: false };
    return {
      chosen: first.at,
      rivals,
      sure: first.score > 0 && first.score > (second?.score ?? -1),
    };
  });
}

const roleWords =
  /\b(sph\w*|sf|esf\w*|cyl\w*|zyl\w*|cil\w*|ax|axis|axe|achse|eje|axes|rx|refraction|refr|prescription|se|mse|seqv?|equiv\w*|eq|d|dpt|dptr|diopt\w*|deg|degrees|power|value|mm|ds|dc|s|c|a|x|eye|va|acuity|conf\w*|score|pupil|size|diam\w*|status|logmar|snellen|in|of|the)\b/g;

/** The words that are left of a name when those for the eye and the quantity are gone. */
function withBlocks(columns: readonly DetectedColumn[]): DetectedColumn[] {
  const rest = (column: DetectedColumn) =>
    column.facts.bare.replace(roleWords, " ").replace(/\s+/g, " ").trim();
  const powers = columns.filter(({ is }) => measuredRoles.has(is));
  const blocks = new Set(powers.map((column) => column.block || rest(column)));
  return columns.map((column) => {
    if (column.block !== "") return column;
    const own = rest(column);
    if (measuredRoles.has(column.is)) return { ...column, block: blocks.size > 1 ? own : "" };
    return { ...column, block: blocks.size > 1 && blocks.has(own) ? own : "" };
  });
}

function settled(
  facts: ColumnFacts,
  role: Role | null,
  given: ColumnAnswers,
  doubtful: boolean,
): DetectedColumn {
  const questions: Question[] = [];
  const is = role ?? harmless(facts);
  if (is === "unknown" && given.is == null) {
    questions.push({
      key: "is",
      ask: "what is this column",
      allowed: roles.filter((one) => one !== "unknown"),
    });
  }
  if (doubtful && given.is == null) {
    questions.push({
      key: "is",
      ask: "is this the column that says which child a row belongs to",
      allowed: ["subject", "record-number", "other"],
    });
  }
  const dated = is === "date" || is === "birth-date" || is === "other-date";
  const dates = dated ? dateColumn(facts.cells, { serials: true }) : null;
  const order = given.order ?? dates?.order ?? null;
  // a date that goes needs no order
  const needed = is === "date" || is === "birth-date";
  if (needed && order === null) {
    questions.push({
      key: "order",
      ask: `in which order day, month and year stand: ${dates?.because ?? "no cell is a date"}`,
      allowed: dates === null ? dateOrders : ["day-first", "month-first"],
    });
  }
  const century = given.century ?? null;
  if (needed && dates?.shortYears && century === null) {
    questions.push({
      key: "century",
      ask: "years have two digits; what is added to them",
      allowed: ["1900", "2000"],
    });
  }
  const unit = is === "age" ? (given.unit ?? ageUnit(facts)) : null;
  if (is === "age" && unit === null) {
    questions.push({
      key: "unit",
      ask: "the unit of these ages",
      allowed: ["years", "decimal-years", "months", "years-and-months"],
    });
  }
  const notation = is === "acuity" ? (given.notation ?? acuityNotation(facts)) : null;
  if (is === "acuity" && notation === null) {
    questions.push({
      key: "notation",
      ask: "how acuity is written",
      allowed: ["logMAR", "snellen-feet", "snellen-metres", "decimal"],
    });
  }
  return {
    column: facts.column,
    is,
    eye: given.eye ?? facts.eye,
    block: given.block ?? "",
    of: given.of ?? null,
    ...{ order, century, unit, notation, questions, facts },
    because: given.is != null ? "said" : reason(facts, is, dates?.because),
  };
}

/** Numbers that no analysis reads, or a few words that repeat; anything else, and what could be a power, is asked. */
function harmless(facts: ColumnFacts): Role {
  if (facts.filled === 0) return "other";
  const words = [...facts.cells.keys()].slice(0, 5000);
  if (kindsOfCells(facts) !== null || looksLikeNames(words)) return "unknown";
  const repeats = facts.cells.size <= Math.max(2, Math.min(12, facts.filled / 4));
  if (facts.numbers.share >= 0.9) {
    const codes = facts.numbers.whole === 1 && facts.numbers.high >= 10_000;
    const unique = facts.cells.size > facts.filled / 2.5 && facts.numbers.whole === 1;
    // a few numbers are codes of something
    const coded = facts.numbers.whole === 1 && facts.cells.size >= 2 && facts.cells.size <= 5;
    if (couldBePower(facts) || coded) return "unknown";
    return codes || (unique && facts.filled > 5) ? "unknown" : "other";
  }
  // words that nothing here knows could be places or people, however often they repeat
  const known = share(facts, (text) => yesNoOf(text) !== null || text.length === 1) > 0.9;
  return repeats && known ? "other" : "unknown";
}

/** Signed dioptres with decimals, or many whole numbers up to 180: no name says so, and it is not let go unasked. */
function couldBePower({ numbers, cells, filled }: ColumnFacts): boolean {
  const many = cells.size >= Math.min(8, filled / 2);
  const dioptres =
    numbers.whole < 1 && numbers.low >= -30 && numbers.high <= 30 && numbers.negative > 0;
  const axes = numbers.whole === 1 && numbers.low >= 0 && numbers.high > 90 && numbers.high <= 180;
  return many && (dioptres || axes);
}

function reason(facts: ColumnFacts, is: Role, dates: string | undefined): string {
  if (facts.filled === 0) return "by its name; no cell is filled";
  if (dates !== undefined) return dates;
  if (is === "unknown") return "neither name nor cells say what it is";
  if (is === "other") return "harmless, and no analysis reads it";
  if (is === "prescription") return "clinic notation in its cells";
  const number = facts.numbers.share > 0.9;
  return number
    ? `by its name, and numbers from ${facts.numbers.low} to ${facts.numbers.high}`
    : `by its name and its cells`;
}
