// No raw identifier in any output but the key table, whatever the files look like; no unhandled error.
import {
  existsSync,
  mkdirSync,
  mkdtempSync,
  readdirSync,
  readFileSync,
  rmSync,
  statSync,
  writeFileSync,
} from "node:fs";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { createRandom } from "../../src/inference/index.js";
import { prepareFiles } from "../../src/prepare/index.js";
import { InputError } from "../../src/results/index.js";

interface Draws {
  readonly random: ReturnType<typeof createRandom>;
  readonly pick: <Item>(list: readonly Item[]) => Item;
}

const header = [
  "Child ID",
  "Child Name",
  "DOB",
  "Seen",
  "School",
  "R Sph",
  "R Cyl",
  "R Axis",
  "L Sph",
  "L Cyl",
  "L Axis",
  "Phone",
  "Remarks",
  "Glasses worn",
  "Age",
];
/** Each child's id, name, birth date and phone are words found nowhere else. */
const children = Array.from({ length: 24 }, (_, at) => ({
  id: `QX${70_000 + 37 * at}`,
  name: `Zorba${"abcdefghijklmnopqrstuvwx"[at]}el Wyndrift${"abcdefghijklmnopqrstuvwx"[at]}`,
  born: `20${18 + (at % 3)}-0${1 + (at % 9)}-1${at % 10}`,
  phone: `+1 555 ${7000 + at * 13} 44`,
}));
const identifiers = children.flatMap(({ id, name, born, phone }) => [
  id,
  ...name.split(" "),
  born,
  phone,
]);

function table({ pick, random }: Draws): string[][] {
  return children.slice(0, 8 + random.integer(17)).map(({ id, name, born, phone }, at) => [
    ...[id, name, born, `2026-03-${10 + (at % 15)}`, pick(["Oak Hill", "Riverbend"])],
    ...[
      "+1.25",
      "-0.50",
      String(1 + ((at * 37) % 180)),
      "-0.75",
      "-1.00",
      String(1 + ((at * 53) % 180)),
    ],
    ...[phone, at % 2 === 0 ? `${name} sits close to the board` : ""],
    // both eyes in one cell, and ages of two units: what is taken apart has to stay nobody's
    ...["R +1.00 -0.50 x 90 / L +1.25 sph", at % 3 === 0 ? `${40 + at} m` : `${4 + (at % 3)} y`],
  ]);
}

/** Cells exchanged, put elsewhere, broken; rows cut; names of columns changed; marks of the file changed. */
function mutate(rows: string[][], names: string[], { pick, random }: Draws): string {
  const times = 1 + random.integer(6);
  let mark = ",";
  for (let time = 0; time < times; time++) {
    const row = pick(rows);
    const column = random.integer(names.length);
    const child = pick(children);
    switch (random.integer(9)) {
      case 0:
        row[column] = pick([
          child.id,
          child.name,
          child.born,
          child.phone,
          child.name.split(" ")[0]!,
        ]);
        break;
      case 1:
        row[column] = pick([
          "",
          "abc",
          "+",
          "9999999",
          "1e9",
          '"',
          "\u2212\u22121",
          "NULL",
          "13/13/2026",
          "+1.25 -0.50 x",
        ]);
        break;
      case 2:
        [row[column], row[random.integer(names.length)]] = [
          row[random.integer(names.length)]!,
          row[column]!,
        ];
        break;
      case 3:
        row.pop();
        break;
      case 4:
        names[column] = pick([
          "",
          "x",
          "Sph",
          "Axis",
          "Eye",
          "Result",
          "Status",
          "Age",
          names[0]!,
          "Clinic",
          "Diagnosis",
        ]);
        break;
      case 5:
        mark = pick([",", ";", "\t", "|"]);
        break;
      case 6:
        rows.splice(random.integer(rows.length), 1);
        break;
      case 7:
        for (const other of rows)
          other[column] = pick([child.id, child.name, other[1] ?? "", "1.00"]);
        break;
      default:
        row[column] = ` ${row[column]} `;
    }
    if (rows.length === 0) break;
  }
  const quote = (cell = "") => (cell.includes(mark) ? `"${cell}"` : cell);
  return [names, ...rows].map((cells) => cells.map(quote).join(mark)).join("\n");
}

export interface FuzzCounts {
  readonly mutations: number;
  readonly seed: number;
  readonly written: number;
  readonly asked: number;
  readonly refused: number;
  /** The file of each turn in which a raw identifier was shown, and which. */
  readonly leaks: readonly {
    readonly turn: number;
    readonly leaked: string[];
    readonly file: string;
  }[];
  readonly unhandled: readonly {
    readonly turn: number;
    readonly error: string;
    readonly file: string;
  }[];
}

/** What became of one mutated export. */
export interface Turn {
  readonly end: "written" | "asked" | "refused" | "unhandled";
  readonly error: string;
  readonly leaked: string[];
}

/** So many are prepared at a time, since most of the time of one is waiting for files. */
const atATime = 16;

/** Prepares so many mutated exports; what shows a raw identifier, or fails without words, is listed. */
export function fuzz(
  mutations: number,
  seed: number,
  turnsAgain?: ReadonlySet<number>,
): Promise<FuzzCounts> {
  const random = createRandom(seed);
  const pick: Draws["pick"] = (list) => list[random.integer(list.length)]!;
  const draws = { random, pick };
  const draw = () => oneExport(mutate(table(draws), [...header], draws));
  return fuzzOver(mutations, seed, draw, turnsAgain);
}

/** Prepares so many mutated exports as `draw` makes them, or of these only some turns. */
export async function fuzzOver(
  mutations: number,
  seed: number,
  draw: () => Mutated,
  turnsAgain?: ReadonlySet<number>,
): Promise<FuzzCounts> {
  const folder = mkdtempSync(join(tmpdir(), "mutated-"));
  // most refusals are of cells that are tried as a prescription; where they arose nobody reads
  const { stackTraceLimit } = Error;
  Error.stackTraceLimit = 0;
  const counts = { written: 0, asked: 0, refused: 0 };
  const leaks: FuzzCounts["leaks"][number][] = [];
  const unhandled: FuzzCounts["unhandled"][number][] = [];
  for (let from = 0; from < mutations; from += atATime) {
    const files = Array.from({ length: Math.min(atATime, mutations - from) }, draw);
    const wanted = [...files.keys()].filter((at) => turnsAgain?.has(from + at) ?? true);
    const turns = await Promise.all(
      wanted.map((at) => prepared(files[at]!, join(folder, String(from + at)))),
    );
    turns.forEach(({ end, error, leaked }, k) => {
      const at = wanted[k]!;
      const file = Object.values(files[at]!.texts).join("\n\n");
      if (end === "unhandled") unhandled.push({ turn: from + at, error, file });
      else counts[end]++;
      if (leaked.length > 0) leaks.push({ turn: from + at, leaked, file });
    });
  }
  rmSync(folder, { recursive: true });
  Error.stackTraceLimit = stackTraceLimit;
  return { mutations, seed, ...counts, leaks, unhandled };
}

/** One mutated export and what goes with it: the files, who answers, and whose words must not be seen. */
export interface Mutated {
  readonly texts: Readonly<Record<string, string>>;
  readonly identifiers: readonly string[];
  readonly answer: (choices: Choices) => void;
}
type Column = Record<string, unknown>;
export interface Choices {
  readonly files: { holds: unknown; file: string; columns: Record<string, Column> }[];
  readonly ids: Record<string, unknown>;
}

/** What every question but that after a column is answered with. */
export function answerDetails(column: Column): void {
  if (column.order === null) column.order = "day-first";
  if (column.unit === null) column.unit = "years";
  if (column.notation === null) column.notation = "logMAR";
  if (column.century === null) column.century = 2000;
  if (column.eye === null) column.eye = "right";
  if (column.eyes === null) column.eyes = "right-left";
}

/** Somebody who agrees to everything, keeps what is not known, and so risks most. */
function answerAtRisk({ files, ids }: Choices): void {
  ids.ignore ??= [];
  for (const [index, file] of files.entries()) {
    file.holds ??= [index === 0 ? "readings" : "findings"];
    for (const column of Object.values(file.columns)) {
      if (column.is === null) Object.assign(column, { is: "other", fate: "keep" });
      answerDetails(column);
    }
  }
}

const exam = [
  ["Child ID", "Exam date", "R Sph", "R Cyl", "R Axis", "Drops"].join(","),
  ...children.slice(0, 9).map(({ id }) => `${id},2026-04-11,+1.50,-0.50,9,yes`),
].join("\n");
const oneExport = (screening: string): Mutated => ({
  texts: { "screening.csv": screening, "exam.csv": exam },
  identifiers,
  answer: answerAtRisk,
});

/** Prepares files with somebody's answers, and looks through all that is shown but the key table. */
export async function prepared(
  { texts, identifiers, answer }: Mutated,
  folder: string,
): Promise<Turn> {
  mkdirSync(join(folder, "raw"), { recursive: true });
  const paths = Object.entries(texts).map(([name, text]) => {
    const path = join(folder, "raw", name);
    writeFileSync(path, text);
    return path;
  });
  const to = join(folder, "study");
  const shown: string[] = [];
  let end: Turn["end"] = "asked";
  let error = "";
  try {
    let choices: Choices | undefined;
    for (let call = 0; call < 4; call++) {
      const made = await prepareFiles(paths, choices, { to });
      shown.push(JSON.stringify(made));
      if (made.written) {
        end = "written";
        break;
      }
      choices = JSON.parse(readFileSync(join(to, "prepare.json"), "utf8")) as Choices;
      answer(choices);
    }
  } catch (fault) {
    error = fault instanceof Error ? `${fault.message}\n${fault.stack}` : String(fault);
    end = fault instanceof InputError ? "refused" : "unhandled";
    shown.push(error);
  }
  if (existsSync(to)) {
    for (const name of readdirSync(to)) {
      // the schemas are the same in every run
      if (!name.endsWith(".schema.json")) shown.push(readFileSync(join(to, name), "utf8"));
    }
  }
  const key = `${to}-key/children.csv`;
  if (existsSync(key) && (statSync(key).mode & 0o777) !== 0o600) {
    [end, error] = ["unhandled", "the key table can be read by others"];
  }
  rmSync(folder, { recursive: true, force: true });
  // a cell of one turn may have been moved into the name of a column only by cutting the header, which none does
  const text = shown.join("\n");
  // each with what stands around it, so that a leak can be looked at
  const leaked = identifiers.flatMap((one) => {
    const at = text.indexOf(one);
    return at < 0 ? [] : [`${one}: ${text.slice(Math.max(0, at - 120), at + 60)}`];
  });
  return { end, error, leaked };
}
