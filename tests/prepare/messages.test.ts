// Every message of the way from raw files to a study: what was wanted, what came (file, column, line, characters,
// nearest names), and the one change that helps. The pieces are what a reader needs; the wording may change.
import { mkdirSync, mkdtempSync, readFileSync, rmSync, writeFileSync } from "node:fs";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { afterAll, beforeAll, describe, expect, it } from "vitest";
import * as xlsx from "xlsx";
import {
  auditFile,
  columnsJsonSchema,
  defineColumns,
  readFindings,
  readReadings,
} from "../../src/cohort/index.js";
import { readJsonFile } from "../../src/platform/index.js";
import { type PreparationChoices, prepareFiles } from "../../src/prepare/index.js";
import { InputError } from "../../src/results/index.js";
import { draftStudy } from "../../src/study/index.js";

let folder: string;
beforeAll(() => {
  folder = mkdtempSync(join(tmpdir(), "messages-"));
});
afterAll(() => rmSync(folder, { recursive: true }));

const mapping = (more: object = {}, block: object = {}) => ({
  ...{ kind: "columns", version: 1, columns: { subject: "id", eye: "eye" } },
  readings: [{ columns: { sphere: "sph", cylinder: "cyl", axis: "ax" }, ...block }],
  ...more,
});
const header = "id,eye,sph,cyl,ax\n";
const sound = `${header}a1,OD,-1.00,-0.50,90\na2,OS,+1.25,-0.25,10\n`;

/** A file of its own folder for each case. */
function file(name: string, content: string | Buffer): string {
  const path = join(mkdtempSync(join(folder, "case-")), name);
  writeFileSync(path, content);
  return path;
}
const read = (path: string, columns: object = mapping()) => readReadings(path, { columns });
const prepared = (paths: string[], choices?: object, more: object = {}) =>
  prepareFiles(paths, choices, { to: join(mkdtempSync(join(folder, "to-")), "study"), ...more });
const exportText =
  "Pupil ID,Seen on,R sph,R cyl,R axis\n0012,2026-03-10,+1.25,-0.50,90\n0013,2026-03-11,-0.75,-0.25,10\n";
const examText =
  "Pupil ID,Exam date,R sph,R cyl,R axis,Drops\n0012,2026-04-09,+2.00,-0.50,95,yes\n0013,2026-04-09,+2.00,-0.50,95,no\n";

/** Prepares a screening and an exam once more, after somebody has changed the answers of the first. */
async function answered(
  change: (columns: PreparationChoices["files"][number]["columns"]) => unknown,
) {
  const raw = [file("a.csv", exportText), file("b.csv", examText)];
  const { choices } = await prepared(raw);
  const own = structuredClone(choices) as PreparationChoices;
  change(own.files[0]!.columns);
  return prepared(raw, own);
}

/** The keys of a block of readings, as the schema has them. */
function blockKeys(schema: object): object {
  const { properties } = schema as {
    properties: Record<string, { items: { properties: object } }>;
  };
  return properties.readings!.items.properties;
}

/** What is wrong, how it comes to it, and what its message has to hold. */
const table: readonly (readonly [string, () => unknown, ...string[]])[] = [
  // files
  [
    "no such file",
    () => read(join(folder, "screning.csv")),
    "screning.csv",
    "in the folder",
    "there",
  ],
  [
    "no such file, but one of nearly that name",
    () => read(join(file("screening.csv", sound), "..", "screning.csv")),
    'did you mean "screening.csv"?',
  ],
  ["a folder", () => read(folder), "got the folder"],
  ["a web address", () => read("https://example.org/a.csv"), "web address", "save the file"],
  ["an empty file", () => read(file("a.csv", "")), "empty", "a.csv", "export it once more"],
  ["no row", () => read(file("a.csv", header)), "at least one row", "a.csv", "delimiter"],
  [
    "a picture",
    () => read(file("a.csv", Buffer.from([0x89, 0x50, 0x4e, 0x47, 0, 0, 0, 13, 0, 1, 2, 3]))),
    ...["binary file", "a.csv", "CSV, TSV, XLSX and Parquet"],
  ],
  [
    "another encoding",
    () => read(file("a.csv", Buffer.from(`${sound}é1,OD,-1,0,9\n`, "latin1"))),
    ...["a.csv", "line 4", '"encoding": "latin1"'],
  ],
  [
    "a quote left open",
    () => read(file("a.csv", `${sound}"a3,OD,-1,0,9\na4,OD,-1,0,9\n`)),
    ...["quotes", "line 4", "a.csv", "close it"],
  ],
  [
    "a broken gzip",
    () => read(file("a.csv.gz", Buffer.from([0x1f, 0x8b, 8, 0, 1, 2]))),
    "damaged",
    "a.csv.gz",
  ],
  [
    "a broken workbook",
    () => read(file("a.xlsx", Buffer.from("PK\u0003\u0004nothing"))),
    ...["XLSX", "a.xlsx", "save it anew"],
  ],
  [
    "no such sheet",
    () => {
      const book = xlsx.utils.book_new();
      xlsx.utils.book_append_sheet(book, xlsx.utils.aoa_to_sheet([["id"], ["a"]]), "Data");
      const path = file("b.xlsx", "");
      xlsx.writeFile(book, path);
      return read(path, mapping({ text: { sheet: "Daten" } }));
    },
    ...["Daten", "b.xlsx", '"Data"'],
  ],
  // mappings
  [
    "an unknown key",
    () => defineColumns({ ...mapping(), colums: {} }),
    "colums",
    'did you mean "columns"',
  ],
  [
    "an unknown key of a block",
    () => defineColumns(mapping({}, { notation: "snellen" })),
    ...["notation", "readings", "there are"],
  ],
  [
    "an unknown key, with every key that there is",
    () => defineColumns(mapping({}, { notation: "snellen" })),
    ...Object.keys(blockKeys(columnsJsonSchema())).map((key) => `"${key}"`),
  ],
  [
    "a missing key",
    () => defineColumns({ kind: "columns", version: 1 }),
    "columns",
    "add this key",
  ],
  [
    "a number in place of a list",
    () => defineColumns(mapping({ readings: 3 })),
    ...["readings", "a list in brackets", "a number"],
  ],
  [
    "a scale that is none",
    () => defineColumns(mapping({}, { confidenceScale: "1 to 9" })),
    ...["confidenceScale", "a list in brackets", "a text"],
  ],
  [
    "columns and eyes at once",
    () => defineColumns(mapping({}, { right: { sphere: "r" } })),
    ...["readings.0", "both", "right and left where a row holds both"],
  ],
  [
    "no column of the eye",
    () => defineColumns(mapping({ columns: { subject: "id" } })),
    ...["an eye column", 'add "eye"'],
  ],
  [
    "an age without a unit",
    () => defineColumns(mapping({ columns: { subject: "id", eye: "eye", age: "age" } })),
    ...['"months"', "say which"],
  ],
  [
    "a sphere and a prescription",
    () => defineColumns(mapping({}, { columns: { sphere: "sph", prescription: "rx" } })),
    ...["readings.0", "leave out the one"],
  ],
  [
    "one column for both eyes",
    () =>
      defineColumns(
        mapping({
          readings: [{ right: { prescription: "rx" }, left: { prescription: "rx" } }],
        }),
      ),
    ...["readings.0", '"rx" for both', '"eyesInCell": "marked"'],
  ],
  [
    "both eyes in one cell, of two columns",
    () =>
      defineColumns(
        mapping({
          readings: [
            {
              ...{ eyesInCell: "marked" },
              ...{ right: { prescription: "rx" }, left: { prescription: "lx" } },
            },
          ],
        }),
      ),
    ...["readings.0", "leave eyesInCell out"],
  ],
  // readers
  [
    "a missing column",
    () => read(file("a.csv", sound.replace("sph", "sphere"))),
    ...['"sph"', "mapped to sphere", 'did you mean "sphere"', '"cyl"'],
  ],
  [
    "one column alone",
    () => read(file("a.csv", sound.replaceAll(",", ";")), mapping({ text: { delimiter: "," } })),
    ...["a single column", "delimiter"],
  ],
  [
    "two columns of one name",
    () => read(file("a.csv", "id,eye,sph,sph,cyl,ax\na,OD,1,1,0,0\n")),
    ...['"sph"', "rename"],
  ],
  [
    "no findings in the mapping",
    () => readFindings(file("a.csv", sound), { columns: mapping() }),
    ...["findings", 'add "findings"'],
  ],
  [
    "a flag that is no column",
    () =>
      readFindings(file("a.csv", sound), {
        columns: mapping({
          readings: undefined,
          findings: [
            {
              columns: { sphere: "sph", cylinder: "cyl", axis: "ax" },
              flags: { decision: "refr" },
            },
          ],
        }),
      }),
    ...['"refr"', "decision", "there are"],
  ],
  [
    "an identifier",
    () => read(file("a.csv", "id,eye,sph,cyl,ax,e-mail\na,OD,1,0,0,x@example.org\n")),
    ...["e-mail", "a.csv", "prepare", '"identifiers": { "allow"', "allowIdentifiers"],
  ],
  [
    "strict reading",
    () =>
      readReadings(file("a.csv", `${header}a,OD,x1,0,0\n`), { columns: mapping(), strict: true }),
    ...["x1", "line 2", "sph"],
  ],
  [
    "an audit of what the mapping has not",
    () => auditFile(file("a.csv", sound), { columns: mapping(), only: "findings" }),
    ...["findings", "readings alone", "add"],
  ],
  // prepare
  ["no file", () => prepared([]), "name the raw exports"],
  [
    "two files of one name",
    () => prepared([file("a.csv", exportText), file("a.csv", examText)]),
    ...["a.csv", "rename"],
  ],
  [
    "the folder of the raw files",
    () => {
      const path = file("a.csv", exportText);
      return prepared([path], undefined, { to: join(path, "..") });
    },
    ...["a.csv", "name a new one"],
  ],
  [
    "the key among the study files",
    () =>
      prepared([file("a.csv", exportText)], undefined, {
        to: join(folder, "s"),
        key: join(folder, "s"),
      }),
    ...["key table", "name another"],
  ],
  [
    "no names in the first line",
    () => prepared([file("a.csv", exportText.split("\n").slice(1).join("\n"))]),
    ...["a.csv", "first line", "add a line with names"],
  ],
  [
    "lines above the names",
    () => prepared([file("a.csv", `Screening of the spring\nprinted 2026-04-01\n${exportText}`)]),
    ...["a.csv", "line 3", "take the 2 lines above it away"],
  ],
  [
    "a second line of names",
    () => {
      const [names, ...rows] = exportText.trim().split("\n");
      const more = [1, 2, 3].map((at) => `001${at + 3},2026-03-1${at},+1.00,-0.25,1${at}`);
      const codes = "pupil_no,scr_date,r_s,r_c,r_a";
      return prepared([file("a.csv", [names, codes, ...rows, ...more].join("\n"))]);
    },
    ...["a.csv", "line 2", "take one of the two lines away"],
  ],
  [
    "answers that are no JSON",
    () =>
      readJsonFile(file("prepare.json", '{\n  "kind": "x",\n  "ids": \n}\n'), "prepare", "choices"),
    ...["prepare.json", "line", "a comma, a quote or a bracket"],
  ],
  [
    "no such protocol",
    () =>
      readJsonFile(
        join(file("protocol.json", "{}"), "..", "protocl.json"),
        "study",
        "a protocol file",
      ),
    ...["protocl.json", 'did you mean "protocol.json"?'],
  ],
  [
    "two columns of one name",
    () => prepared([file("a.csv", exportText.replace("R cyl", "R sph"))]),
    ...["a.csv", "columns 3 and 4", "rename"],
  ],
  [
    "choices of other files",
    async () => {
      const { choices } = await prepared([file("a.csv", exportText)]);
      return prepared([file("b.csv", exportText)], choices);
    },
    ...["a.csv", "b.csv", "the same files"],
  ],
  [
    "a misspelt fate",
    async () => {
      const { choices } = await prepared([file("a.csv", exportText)]);
      const changed = JSON.parse(JSON.stringify(choices).replace('"number"', '"nummer"'));
      return prepared([file("a.csv", exportText)], changed);
    },
    ...["Pupil ID > fate", "keep", "number"],
  ],
  [
    "a misspelt key",
    async () => {
      const { choices } = await prepared([file("a.csv", exportText)]);
      return prepared([file("a.csv", exportText)], { ...choices, idz: {} });
    },
    ...["idz", 'did you mean "ids"'],
  ],
  [
    "ids that would become one",
    async () => {
      const raw = [exportText, examText].map((text, at) =>
        file(`${at}.csv`, text.replace("0013", "12")),
      );
      const { choices } = await prepared(raw);
      return prepared(raw, { ...choices, ids: { ignore: ["leading-zeros"] } });
    },
    ...["ids that stay apart", "leading-zeros", "ignore less"],
  ],
  [
    "a key table of ids compared otherwise",
    async () => {
      const raw = [file("a.csv", exportText), file("b.csv", examText)];
      const to = join(mkdtempSync(join(folder, "to-")), "study");
      mkdirSync(`${to}-key`, { recursive: true });
      const first = await prepareFiles(raw, undefined, { to });
      expect(first.written).toBe(true);
      return prepareFiles(raw, { ...first.choices, ids: { ignore: ["case"] } }, { to });
    },
    ...["key table", "case", "name another folder"],
  ],
  [
    "a key table that is none",
    async () => {
      const to = join(mkdtempSync(join(folder, "to-")), "study");
      mkdirSync(`${to}-key`, { recursive: true });
      writeFileSync(join(`${to}-key`, "children.csv"), "not,a,key\n1,2,3\n");
      return prepareFiles([file("a.csv", exportText)], undefined, { to });
    },
    ...["key table", "children.csv", "another folder"],
  ],
  [
    "an answer to a column that the file has not",
    () => answered((columns) => Object.assign(columns, { "Seen om": { fate: "drop" } })),
    ...['"Seen om"', "a.csv", 'did you mean "Seen on"?', "take it out"],
  ],
  [
    "a word for a fate that is none",
    () => answered((columns) => Object.assign(columns["Seen on"]!, { fate: "dropp" })),
    ...["a.csv > Seen on > fate", '"dropp"', 'did you mean "drop"?', '"code"'],
  ],
  [
    "an order in another notation",
    () => answered((columns) => Object.assign(columns["Seen on"]!, { order: "dd.mm.yyyy" })),
    ...["a.csv > Seen on > order", '"dd.mm.yyyy"', '"day-first"'],
  ],
  [
    "ids that go",
    () => answered((columns) => Object.assign(columns["Pupil ID"]!, { fate: "drop" })),
    ...['"fate": "number"', '"drop"', "Pupil ID", "a.csv", '"is": "record-number"'],
  ],
  // draft
  [
    "a draft of files without powers",
    () => {
      const path = file("a.csv", "id,place\n1,Oak Hill\n2,Riverbend\n");
      return draftStudy({ readings: path, findings: path, folder });
    },
    ...["sphere", "a.csv", "columns.json"],
  ],
  [
    "a mapping beside the readings that is none",
    () => {
      const path = file("a.csv", exportText);
      writeFileSync(
        join(path, "..", "columns.json"),
        '{ "kind": "columns", "version": 1, "colums": {} }',
      );
      return draftStudy({ readings: path, findings: path, folder });
    },
    ...["columns.json", "colums", "did you mean"],
  ],
];

describe("a message says what was wanted, what came and what helps", () => {
  for (const [name, call, ...pieces] of table) {
    it(name, async () => {
      const message = await Promise.resolve()
        .then(call)
        .then(
          () => "nothing was refused",
          (error: unknown) => {
            expect(error).toBeInstanceOf(InputError);
            return (error as Error).message;
          },
        );
      for (const piece of pieces) expect(message).toContain(piece);
      expect(message).toMatch(/requires .*got /s);
      // nothing of the engine, and no word that only a programmer knows
      expect(message).not.toMatch(/undefined|NaN|\[object|received|invalid_type|ENOENT/);
    });
  }
});

it("a class that a person keeps as a place is lost with a word that says how it stays", async () => {
  const [names, ...rows] = exportText.trim().split("\n");
  const paths = [
    file(
      "a.csv",
      [
        `${names},Class`,
        ...[...rows, "0014,2026-03-12,+1.00,-0.50,80"].map((row) => `${row},2b`),
      ].join("\n"),
    ),
    file("b.csv", examText),
  ];
  const { choices } = await prepared(paths);
  const own = structuredClone(choices) as PreparationChoices;
  Object.assign(own.files[0]!.columns.Class!, { fate: "keep" });
  const { files, written } = await prepared(paths, own);
  const { lost } = files[0]!.columns.find(({ column }) => column === "Class")!;
  expect(written).toBe(false);
  expect(lost).toContain('"is": "other" as well');
  Object.assign(own.files[0]!.columns.Class!, { is: "other" });
  const kept = (await prepared(paths, own)).files[0]!.columns.find(
    ({ column }) => column === "Class",
  )!;
  expect(kept.loses).toBe(0);
});

describe("what audit says of cells", () => {
  const columns = mapping({
    columns: { subject: "id", eye: "eye" },
    readings: undefined,
    findings: [{ columns: { prescription: "rx", acuity: "va" }, acuity: "snellen-metres" }],
  });
  const lines = [
    "a,OD,+3.25 -1.00 ?? 175,6/9",
    "b,OD,1.25 -1.00 x 5,6/9",
    "c,OD,+3.25 -1.00,6/9",
    "d,OD,+1.00 -1.00 @ 20,20/30",
    "e,OD,+1.00 DS,6/6",
  ];

  it("names the characters, the line and the column, and keeps M without an axis", async () => {
    const audit = await auditFile(file("a.csv", `id,eye,rx,va\n${lines.join("\n")}\n`), {
      columns,
    });
    const [part] = audit.parts;
    const found = part!.problems.map(({ row, column, rule, action, detail = "" }) =>
      [row, column, rule, action, detail].join(" | "),
    );
    expect(found).toEqual([
      expect.stringMatching(/^2 \| rx \| .*\?\?/),
      expect.stringMatching(
        /^3 \| rx \| prescription-unclear \| set-aside \| .*a sign on the sphere, got "1.25"/,
      ),
      expect.stringMatching(
        /^4 \| rx \| axis-missing \| kept \| .*an axis with the cylinder "-1.00", got none/,
      ),
      expect.stringMatching(/^5 \| va \| .*set-aside/),
    ]);
  });

  it("one line a column and rule, with count, share and three places", async () => {
    const rows = Array.from(
      { length: 10 },
      (_, at) => `s${at},OD,${at < 4 ? `bad${at}` : "-1.00"},0,0`,
    );
    const { parts } = await auditFile(file("a.csv", header + rows.join("\n")), {
      columns: mapping(),
    });
    expect(parts[0]!.byColumn).toHaveLength(1);
    const [line] = parts[0]!.byColumn;
    expect(line).toMatchObject({ column: "sph", rule: "not-a-number", count: 4, share: 0.4 });
    expect(line!.places.map(({ row }) => row)).toEqual([2, 3, 4]);
  });
});

describe("faults of a whole file", () => {
  const faultsOf = async (text: string, more: object = {}, block: object = {}) => {
    const { parts } = await auditFile(file("a.csv", text), { columns: mapping(more, block) });
    return parts.flatMap(({ faults }) => faults.map(({ rule, message }) => `${rule}: ${message}`));
  };
  const rows = (count: number, cells: (at: number) => string) =>
    header + Array.from({ length: count }, (_, at) => `s${at},OD,${cells(at)}`).join("\n");

  it("more than a fifth set aside is one, a fifth is none", async () => {
    const text = (bad: number) => rows(20, (at) => (at < bad ? "bad,0,0" : "-1.00,0,0"));
    expect(await faultsOf(text(4))).toEqual([]);
    const [fault] = await faultsOf(text(5));
    expect(fault).toContain("not-a-number");
    expect(fault).toContain('"marks"');
  });

  it("a sign that more than nine tenths contradict names the other; a reason accepts it", async () => {
    const text = (plus: number) => rows(20, (at) => `1.00,${at < plus ? "+" : "-"}0.50,90`);
    const minus = { cylinder: "minus" };
    const [fault] = await faultsOf(text(19), {}, minus);
    expect(fault).toMatch(/^cylinder-sign: .*plus, not minus.*"cylinder": "plus"/);
    expect(await faultsOf(text(19), { accepted: { "cylinder-sign": "known" } }, minus)).toEqual([]);
    const [half] = await faultsOf(text(10), {}, minus);
    expect(half).toContain('"cylinder": "either"');
  });

  it("declared marks for no reading are no fault", async () => {
    const text = rows(20, (at) => (at < 15 ? "NR,," : "-1.00,0,0"));
    expect(await faultsOf(text, {}, { marks: { NR: "unreadable" } })).toEqual([]);
  });
});

it("says in the mapping's own file where a raw identifier stands, and never what it is", async () => {
  const path = file("a.csv", "id,eye,sph,cyl,ax,contact\nq,OD,1,0,0,someone@example.org\n");
  const message = await read(path).then(String, String);
  expect(message).toContain("contact");
  expect(message).not.toContain("someone");
  expect(readFileSync(path, "utf8")).toContain("someone");
});
