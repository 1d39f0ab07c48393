// Every layout of the corpus, mutated: cells exchanged, moved, broken; rows cut; names of columns changed.
import { createRandom } from "../../src/inference/index.js";
import type { FileTruth, WrittenLayout } from "./corpus/layout.js";
import { allParts } from "./corpus/parts.js";
import {
  answerDetails,
  type Choices,
  type FuzzCounts,
  fuzzOver,
  type Mutated,
} from "./noIdentifier.js";

interface Read {
  readonly truth: FileTruth;
  readonly mark: string;
  readonly names: readonly string[];
  readonly rows: readonly (readonly string[])[];
}
interface Source {
  readonly name: string;
  readonly files: readonly Read[];
  /** The words of all other columns, and of names. */
  readonly elsewhere: string;
}

/** Records of a delimited text, with its quotes. */
function records(text: string, mark: string): string[][] {
  const rows: string[][] = [];
  let [row, cell, quoted]: [string[], string, boolean] = [[], "", false];
  for (let at = 0; at < text.length; at++) {
    const sign = text[at]!;
    if (quoted) {
      if (sign !== '"') cell += sign;
      else if (text[at + 1] === '"') cell += text[++at]!;
      else quoted = false;
    } else if (sign === '"' && cell === "") quoted = true;
    else if (sign === mark) {
      row.push(cell);
      cell = "";
    } else if (sign === "\n") {
      rows.push([...row, cell.replace(/\r$/, "")]);
      [row, cell] = [[], ""];
    } else cell += sign;
  }
  if (cell !== "" || row.length > 0) rows.push([...row, cell]);
  return rows;
}

const ofChildren = new Set("subject name address phone e-mail record-number birth-date".split(" "));

function sourceOf({ name, layout, texts }: WrittenLayout): Source {
  const files = layout.files.map((truth): Read => {
    const text = texts[truth.file]!.replace(/^\uFEFF/, "");
    const line = text.slice(0, text.indexOf("\n"));
    const [mark] = [",", ";", "\t", "|"].toSorted(
      (one, other) => line.split(other).length - line.split(one).length,
    );
    const [names, ...rows] = records(text, mark!);
    return { truth, mark: mark!, names: names!, rows };
  });
  const others = new Set<string>();
  for (const { truth, names, rows } of files) {
    names.forEach((column, at) => {
      others.add(column);
      if (ofChildren.has(truth.columns[column]?.is ?? "")) return;
      for (const row of rows) others.add(row[at]?.trim() ?? "");
    });
  }
  const elsewhere = [...others, name, ...layout.files.map(({ file }) => file)].join("\n");
  return { name, files, elsewhere };
}

/** Cells of children in these rows that are found in no other column. */
function identifiersIn(files: readonly Read[], elsewhere: string): string[] {
  const own = new Set<string>();
  for (const { truth, names, rows } of files) {
    names.forEach((column, at) => {
      const is = truth.columns[column]?.is ?? "";
      if (!ofChildren.has(is)) return;
      for (const row of rows) {
        const cell = row[at]?.trim() ?? "";
        if (is === "name") for (const word of cell.split(/[^\p{L}]+/u)) own.add(word);
        else own.add(cell);
      }
    });
  }
  // a number of a few figures is found in any number, and study numbers are a P and a number
  const telling = (one: string) =>
    one.length >= 5 && (/\p{L}/u.test(one) || one.length >= 7) && !/^P\d+$/i.test(one);
  return [...own].filter((one) => telling(one) && !elsewhere.includes(one));
}

const keepsRare = new Set(["diagnosis", "instrument"]);
const broken = '|abc|+|9999999|1e9|"|\u2212\u22121|NULL|13/13/2026|+1.25 -0.50 x'.split("|");
const namesGiven = "|x|Sph|Axis|Eye|Result|Status|Age|Clinic|Diagnosis|Initials|Grade".split("|");

/** Mutates one of the layouts; its questions are answered by what is true of it, and what is renamed goes. */
function mutated(source: Source, random: ReturnType<typeof createRandom>): Mutated {
  const pick = <Item>(list: readonly Item[]): Item => list[random.integer(list.length)]!;
  const files = source.files.map((one) => {
    const from = random.integer(Math.max(1, one.rows.length - 20));
    const rows = one.rows.slice(from, from + 12 + random.integer(9)).map((row) => [...row]);
    return { ...one, names: [...one.names], rows };
  });
  const identifiers = identifiersIn(files, source.elsewhere);
  const target = pick(files);
  for (let time = 1 + random.integer(6); time > 0 && target.rows.length > 0; time--) {
    const row = pick(target.rows);
    const column = random.integer(target.names.length);
    // a rare word stays in a column of diagnoses and of instruments, whosever it is (src/prepare/README.md, limits)
    if (keepsRare.has(target.truth.columns[target.names[column]!]?.is ?? "")) continue;
    const identifier = identifiers.length > 0 ? pick(identifiers) : "";
    switch (random.integer(9)) {
      case 0:
        row[column] = identifier;
        break;
      case 1:
        row[column] = pick(broken);
        break;
      case 2: {
        const other = random.integer(target.names.length);
        if (keepsRare.has(target.truth.columns[target.names[other]!]?.is ?? "")) break;
        [row[column], row[other]] = [row[other] ?? "", row[column] ?? ""];
        break;
      }
      case 3:
        row.pop();
        break;
      case 4:
        target.names[column] = pick([...namesGiven, target.names[0]!]);
        break;
      case 5:
        row[column] = `${row[column]} ${identifier}`;
        break;
      case 6:
        target.rows.splice(random.integer(target.rows.length), 1);
        break;
      case 7: {
        const other = random.integer(target.names.length);
        for (const each of target.rows) each[column] = each[other] ?? "";
        break;
      }
      default:
        row[column] = ` ${row[column]} `;
    }
  }
  const texts = files.map(({ truth, mark, names, rows }) => {
    const quote = (cell: string) =>
      cell.includes(mark) || /["\n]/.test(cell) ? `"${cell.replaceAll('"', '""')}"` : cell;
    const text = [names, ...rows].map((cells) => cells.map(quote).join(mark)).join("\n");
    return [truth.file.replace(/\.[^.]*(\.gz)?$/, ".csv"), text] as const;
  });
  return {
    texts: Object.fromEntries(texts),
    identifiers,
    answer: (choices) => answerTruly(choices, source),
  };
}

function answerTruly({ files, ids }: Choices, source: Source): void {
  ids.ignore ??= [];
  files.forEach((file, at) => {
    const { truth } = source.files[at]!;
    file.holds ??= truth.holds.filter((one) => one !== "children");
    for (const [name, column] of Object.entries(file.columns)) {
      if (column.is === null) {
        const known = Object.hasOwn(truth.columns, name) ? truth.columns[name] : undefined;
        if (known === undefined) column.fate = "drop";
        else column.is = known.is;
      }
      if (column.of === null) column.of = "readings";
      answerDetails(column);
    }
  });
}

/** So many mutated files over all layouts of the corpus, or of these only some turns. */
export function fuzzLayouts(
  mutations: number,
  seed: number,
  turnsAgain?: ReadonlySet<number>,
): Promise<FuzzCounts> {
  const random = createRandom(seed);
  const sources = allParts().map(sourceOf);
  const draw = () => mutated(sources[random.integer(sources.length)]!, random);
  return fuzzOver(mutations, seed, draw, turnsAgain);
}
