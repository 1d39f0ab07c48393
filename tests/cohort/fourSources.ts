import { mkdtemp, rm, writeFile } from "node:fs/promises";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { DuckDBInstance } from "@duckdb/node-api";
import writeXlsxFile from "write-excel-file/node";
import { type Readings, readReadings } from "../../src/cohort/index.js";
import { createRandom } from "../../src/inference/index.js";

type Cell = number | string | null;
interface RandomTable {
  readonly names: readonly string[];
  readonly rows: readonly (readonly Cell[])[];
  readonly mapping: { kind: string; text?: object };
  readonly decimal: "." | ",";
  /** What sphere and axis of each row have to be, NaN where nothing is known. */
  readonly sphere: readonly number[];
  readonly axis: readonly number[];
}
type Pick = <T>(list: readonly T[]) => T;

/** A code as a mapping may write it: as a number, or as one of its texts. */
function written(code: number, pick: Pick, decimal: "." | ","): Cell {
  const texts = [code, String(code), `${code}.0`, `${code}.00`];
  return pick(decimal === "," ? [...texts, `${code},0`] : texts);
}

/** An invented table with codes for missing, marks and codes of eyes and states, and its mapping. */
export function randomTable(random: () => number): RandomTable {
  const pick: Pick = (list) => list[Math.floor(random() * list.length)]!;
  const chance = (share: number) => random() < share;
  const decimal = chance(0.3) ? "," : ".";
  const code = pick([88, 99, 888, 20]);
  const where = pick(["everywhere", "columns", "quantities", "none"] as const);
  const codes = [written(code, pick, decimal), "NA"];
  const numericEyes = chance(0.5);
  const numericStates = chance(0.5);
  const mark = pick([77, "too far"] as const);
  const missing = {
    everywhere: chance(0.5) ? codes : { everywhere: codes },
    columns: { columns: { s: codes, own: codes } },
    quantities: { quantities: { sphere: codes, cylinder: codes } },
    none: undefined,
  }[where];
  // the code counts in a sphere unless it is named elsewhere; 20 is a sphere that can be
  const inSphere =
    where === "columns" || where === "quantities" || (where === "everywhere" && code > 40);
  const inCylinder = where === "quantities" || (where === "everywhere" && code > 20);
  const inAxis = where === "everywhere" && code > 180;
  const names = ["id", "eye", "s", "c", "a", "day", "months", "years", "state", "own", "weight"];
  const sphere: number[] = [];
  const axis: number[] = [];
  const rows = Array.from({ length: 1 + Math.floor(random() * 8) }, (_, at) => {
    const number = (low: number, high: number, step: number) =>
      low + step * Math.floor((random() * (high - low)) / step);
    const or = (value: Cell): Cell => (chance(0.15) ? pick([null, code, "NA"]) : value);
    const s = chance(0.1) ? mark : or(number(-6, 6, 0.25));
    const c = or(number(-3, 0, 0.25));
    const a = or(chance(0.2) ? Math.min(code, 180) : number(1, 180, 1));
    const blank = (cell: Cell, na: boolean, codeCounts: boolean) =>
      cell === null || (cell === "NA" && na) || (cell === code && codeCounts);
    const known = (cell: Cell, codeCounts: boolean, most: number) =>
      typeof cell === "number" && !(cell === code && codeCounts) && Math.abs(cell) <= most;
    const nothing =
      blank(s, where !== "none", inSphere) &&
      blank(c, where === "everywhere" || where === "quantities", inCylinder) &&
      (blank(a, where === "everywhere", inAxis) || (where === "everywhere" && a === code));
    const measured = s !== mark && !nothing;
    sphere.push(measured && known(s, inSphere, 40) ? (s as number) : Number.NaN);
    axis.push(measured && known(a, inAxis, 180) ? (a as number) : Number.NaN);
    return [
      `s${Math.floor(at / 2)}`,
      numericEyes ? 1 + (at % 2) : pick(["OD", "OS"]),
      s,
      c,
      a,
      or(number(0, 400, 1)),
      or(number(30, 90, 1)),
      or(number(3, 8, 1)),
      numericStates ? or(pick([1, 2])) : or(pick(["dry", "drops"])),
      or(pick(["x", "y", ""])),
      or(number(0.5, 3, 0.125)),
    ];
  });
  const mapping = {
    kind: "columns",
    version: 1,
    ...(missing === undefined ? {} : { missing }),
    ...(numericEyes
      ? { eyes: { right: [written(1, pick, decimal)], left: [written(2, pick, decimal)] } }
      : {}),
    columns: {
      subject: "id",
      eye: "eye",
      day: "day",
      age: [
        { column: "months", unit: "months" },
        { column: "years", unit: "years" },
      ],
    },
    readings: [
      {
        marks: { [String(mark === 77 ? written(77, pick, decimal) : mark)]: "over-range" },
        cycloplegia: {
          codes: numericStates
            ? { [String(written(1, pick, decimal))]: "none", 2: "full" }
            : { dry: "none", drops: "full" },
        },
        own: { own: "own", weight: { column: "weight", type: "number" } },
        columns: { sphere: "s", cylinder: "c", axis: "a", cycloplegia: "state" },
      },
    ],
  };
  return { names, rows, mapping, decimal, sphere, axis };
}

/** A number as some program writes it: 888, 888.0, 888.00, with a comma where that is the decimal sign. */
function numberText(value: number, places: number, decimal: "." | ","): string {
  const least = value.toFixed(places);
  const text = Number(least) === value ? least : String(value);
  return decimal === "," ? text.replace(".", ",") : text;
}

function content({ problems, line, rawText: _, ...readings }: Readings) {
  const words = (values: { codes: ArrayLike<number>; labels: readonly string[] }) =>
    Array.from(values.codes, (code) => values.labels[code]);
  const plain = (value: unknown): unknown => {
    if (ArrayBuffer.isView(value)) return Array.from(value as Float64Array, String);
    if (typeof value !== "object" || value === null) return value;
    if ("codes" in value) return words(value as Readings["subject"]);
    if (Array.isArray(value)) return value.map(plain);
    return Object.fromEntries(Object.entries(value).map(([key, one]) => [key, plain(one)]));
  };
  const first = line[0]! - Math.min(...line);
  return {
    ...(plain(readings) as object),
    line: Array.from(line, (one) => one - line[0]! + first),
    problems: problems.map(({ row, column, rule, action, detail }) => ({
      row: row === null ? null : row - line[0]!,
      column,
      rule,
      action,
      detail,
    })),
  };
}

/** Reads random tables as rows, text, text in chunks, workbook and Parquet; `differ` holds those unlike. */
export async function compareSources(tables: number, seed: number) {
  const folder = await mkdtemp(join(tmpdir(), "sources-"));
  const generator = createRandom(seed);
  const random = () => generator.uniform();
  const connection = await (await DuckDBInstance.create(":memory:")).connect();
  const counts = { read: 0, rejected: 0, cells: 0, differ: [] as string[] };
  try {
    for (let at = 0; at < tables; at++) {
      const table = randomTable(random);
      const read: Record<string, string> = {};
      for (const [way, source] of Object.entries(await sources(table, random))) {
        try {
          const readings = await readReadings(source, {
            columns: table.mapping,
            ...(way === "chunks" ? { largeFile: 0 } : {}),
          });
          read[way] = JSON.stringify(content(readings));
          if (readings.n !== table.rows.length) continue;
          const truth = [table.sphere, table.axis].map((one) => one.map(String));
          const found = [readings.sphere, readings.axis].map((one) => Array.from(one, String));
          if (JSON.stringify(truth) !== JSON.stringify(found)) {
            counts.differ.push(JSON.stringify({ table, way, found }));
          }
        } catch (error) {
          read[way] = (error as Error).message.replaceAll(/\S*table\.\w+|rows/g, "");
        }
      }
      const [first, ...others] = Object.values(read);
      if (others.some((one) => one !== first)) counts.differ.push(JSON.stringify({ table, read }));
      else if (first!.startsWith("{")) {
        counts.read++;
        counts.cells += table.rows.length * table.names.length;
      } else counts.rejected++;
    }
  } finally {
    connection.closeSync();
    await rm(folder, { recursive: true });
  }
  return counts;

  async function sources({ names, rows, mapping, decimal }: RandomTable, random: () => number) {
    const places = names.map(() => Math.floor(random() * 3));
    const delimiter = decimal === "," ? ";" : ",";
    const cell = (value: Cell, column: number) =>
      value === null
        ? ""
        : typeof value === "string"
          ? value
          : numberText(value, places[column]!, decimal);
    const lines = [names, ...rows.map((row) => row.map(cell))];
    const text = `${lines.map((line) => line.join(delimiter)).join("\n")}\n`;
    const path = (ending: string) => join(folder, `table.${ending}`);
    await writeFile(path("csv"), text);
    const data = [
      names.map((value) => ({ value, type: String })),
      ...rows.map((row) =>
        row.map((value) =>
          value === null || value === ""
            ? null
            : typeof value === "string"
              ? { value, type: String }
              : { value, type: Number },
        ),
      ),
    ];
    await writeFile(path("xlsx"), await writeXlsxFile([{ sheet: "s", data }]).toBuffer());
    const types = names.map((_, column) => {
      const cells = rows.map((row) => row[column]!).filter((value) => value !== null);
      if (cells.some((value) => typeof value === "string")) return "VARCHAR";
      const whole = cells.every((value) => Number.isInteger(value));
      const kinds = ["DOUBLE", "DECIMAL(9,3)", whole ? "BIGINT" : "DOUBLE", "FLOAT"];
      return kinds[Math.floor(random() * kinds.length)]!;
    });
    const literal = (value: Cell, column: number) => {
      if (value === null) return `cast(null as ${types[column]})`;
      const written = types[column] === "VARCHAR" ? cell(value, column) : String(value);
      return `cast('${written}' as ${types[column]})`;
    };
    const values = rows.map((row) => `(${row.map(literal).join(", ")})`).join(", ");
    await connection.run(
      `copy (select * from (values ${values}) as t(${names.map((name) => `"${name}"`).join(", ")})) ` +
        `to '${path("parquet")}' (format parquet)`,
    );
    mapping.text = decimal === "," ? { decimal, delimiter } : undefined;
    return {
      rows: rows.map((row) =>
        Object.fromEntries(row.map((value, column) => [names[column]!, value])),
      ),
      text: { text, name: "table.csv" },
      chunks: path("csv"),
      workbook: path("xlsx"),
      parquet: path("parquet"),
    };
  }
}
