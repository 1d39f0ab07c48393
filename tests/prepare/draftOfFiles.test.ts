// A draft reads all four forms of tables alike, and takes over a mapping that lies beside the readings.
import { mkdtempSync, rmSync, writeFileSync } from "node:fs";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { DuckDBInstance } from "@duckdb/node-api";
import { afterAll, beforeAll, expect, it } from "vitest";
import * as xlsx from "xlsx";
import { columnsJsonSchema } from "../../src/cohort/index.js";
import { draftStudy } from "../../src/study/index.js";

let folder: string;
beforeAll(() => {
  folder = mkdtempSync(join(tmpdir(), "draft-"));
});
afterAll(() => rmSync(folder, { recursive: true }));

const readings = [
  ["Pupil No", "Age", "Screening Day", "R Sph", "R Cyl", "R Ax", "L Sph", "L Cyl", "L Ax"],
  ...Array.from({ length: 12 }, (_, at) => [
    ...[`K${100 + at}`, String(40 + at), String(at), `${at / 4 - 1}`, "-0.5", String(10 + at)],
    ...[`${1 - at / 4}`, "-0.25", String(80 + at)],
  ]),
];
const findings = [
  ["Pupil No", "Exam Day", "Eye", "Sphere", "Cylinder", "Axis", "Drops", "Lens colour", "Quarl"],
  ...Array.from({ length: 12 }, (_, at) => [
    ...[
      `K${100 + at}`,
      String(20 + at),
      at % 2 ? "OD" : "OS",
      `${at / 4}`,
      "-0.75",
      String(20 + at),
    ],
    ...["cyclopentolate", ["blue", "grey"][at % 2]!, ["Zibeline", "Perse"][at % 2]!],
  ]),
];

async function write(path: string, rows: readonly (readonly string[])[]): Promise<void> {
  const mark = path.endsWith(".tsv") ? "\t" : ",";
  const text = rows.map((row) => row.join(mark)).join("\n");
  if (path.endsWith(".xlsx")) {
    const book = xlsx.utils.book_new();
    const [names, ...cells] = rows;
    const typed = cells.map((row) =>
      row.map((cell) => (/^-?[\d.]+$/.test(cell) ? Number(cell) : cell)),
    );
    xlsx.utils.book_append_sheet(book, xlsx.utils.aoa_to_sheet([[...names!], ...typed]), "Data");
    xlsx.writeFile(book, path);
  } else if (path.endsWith(".parquet")) {
    writeFileSync(`${path}.csv`, text);
    const connection = await (await DuckDBInstance.create(":memory:")).connect();
    await connection.run(`copy (from read_csv('${path}.csv')) to '${path}' (format parquet)`);
    connection.closeSync();
  } else writeFileSync(path, text);
}

async function drafted(ending: string) {
  const at = mkdtempSync(join(folder, "form-"));
  const [one, other] = [join(at, `readings.${ending}`), join(at, `findings.${ending}`)];
  await write(one, readings);
  await write(other, findings);
  return {
    at,
    one,
    other,
    draft: await draftStudy({ readings: one, findings: other, folder: at }),
  };
}

it.each(["tsv", "xlsx", "parquet"])("%s: the same mapping as of CSV", async (ending) => {
  const csv = (await drafted("csv")).draft;
  const { draft } = await drafted(ending);
  expect(draft.files["columns.json"]).toEqual(csv.files["columns.json"]);
  expect(draft.files["columns.json"]).toMatchObject({
    $schema: "./columns.schema.json",
    readings: [{ right: { sphere: "R Sph" }, left: { axis: "L Ax" } }],
    findings: [{ columns: { sphere: "Sphere", cycloplegia: "Drops" } }],
  });
  expect(draft.files["columns.schema.json"]).toEqual(columnsJsonSchema());
  expect(draft.takenOver).toBeNull();
});

it("lists what it did not understand, why, and with examples that say nobody", async () => {
  const { draft } = await drafted("csv");
  const found = draft.leftOut.find(({ column }) => column === "Quarl");
  expect(found?.why).not.toBe("");
  expect(found?.examples).toEqual(["Aaaaaaaa", "Aaaaa"]);
  // what is understood and no key reads is carried along
  expect(draft.leftOut.map(({ column }) => column)).toEqual(["Quarl"]);
  expect(draft.files["columns.json"]).toMatchObject({
    findings: [{ own: { "Lens colour": "Lens colour" } }],
  });
});

it("a columns.json beside the readings is taken over as it stands", async () => {
  const { at, one, other, draft } = await drafted("csv");
  const own = {
    ...draft.files["columns.json"],
    note: "Written by hand.",
    accepted: { "ids-as-written": "they are" },
  };
  writeFileSync(join(at, "columns.json"), JSON.stringify(own));
  const again = await draftStudy({ readings: one, findings: other, folder: at });
  expect(again.takenOver).toBe(join(at, "columns.json"));
  expect(again.files["columns.json"]).toEqual(own);
  expect(again.leftOut).toEqual([]);
});

it("readings with and without glasses are not pooled: the draft names those without, and says so", async () => {
  const own = mkdtempSync(join(folder, "worn-"));
  const worn = readings.map((row, at) => [
    ...row,
    at === 0 ? "Wearing glasses" : at % 3 ? "no" : "yes",
  ]);
  await write(join(own, "readings.csv"), worn);
  await write(join(own, "findings.csv"), findings);
  const paths = { readings: join(own, "readings.csv"), findings: join(own, "findings.csv") };
  const { files } = await draftStudy({ ...paths, folder: own });
  const { indexTest } = files["protocol.json"] as { indexTest: Record<string, string> };
  expect(indexTest.correction).toBe("none");
  expect(indexTest.note).toContain("are left out, and counted");
});
