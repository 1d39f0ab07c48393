// What columns say of each other, each case small enough to be checked by hand: no list of words knows these names.
import { mkdtempSync, rmSync, writeFileSync } from "node:fs";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { afterAll, describe, expect, it } from "vitest";
import { prepareFiles } from "../../src/prepare/index.js";

const folder = mkdtempSync(join(tmpdir(), "agreement-"));
afterAll(() => rmSync(folder, { recursive: true }));

/** Prepares one file of screening readings; whatever would be lost was seen. */
async function made(header: string, lines: readonly string[], name = "screening.csv") {
  const own = mkdtempSync(join(folder, "case-"));
  const path = join(own, name);
  writeFileSync(path, `${[header, ...lines].join("\n")}\n`);
  const first = await prepareFiles([path], undefined, { to: join(own, "study") });
  const second = await prepareFiles([path], first.choices, { to: join(own, "study") });
  const columns = second.files[0]!.columns;
  const is = (column: string) => columns.find((one) => one.column === column)!.is;
  const asked = second.questions.map(({ column }) => column);
  return { ...second, is, asked };
}
const rows = Array.from({ length: 24 }, (_, at) => ({
  id: 500 + at,
  day: `2026-03-${String(1 + at).padStart(2, "0")}`,
  sphere: (at % 9) / 2 - 1,
  cylinder: -((at % 5) / 4),
  axis: (at * 37) % 181,
}));
type Row = (typeof rows)[number];
const eye = ({ sphere, cylinder, axis }: Row) =>
  `${sphere.toFixed(2)},${cylinder.toFixed(2)},${axis}`;
const both = (write: (row: Row) => string) =>
  rows.map((row) => `${row.id},${row.day},${write(row)},${write(row)}`);

describe("three columns of a refraction", () => {
  const header = "Child ID,Screened,Pallo OD,Cyl OD,Suunta OD,Pallo OS,Cyl OS,Suunta OS";

  it("are known by the one whose name is known, their cells and the other eye", async () => {
    const { is, asked } = await made(header, both(eye));
    expect(["Pallo OD", "Suunta OD", "Pallo OS", "Suunta OS"].map(is)).toEqual([
      ...["sphere", "axis", "sphere", "axis"],
    ]);
    expect(asked).toEqual([]);
  });

  it("are asked where their cells are no such numbers", async () => {
    const curved = both((row) => eye({ ...row, sphere: 43 + row.sphere }));
    const { asked } = await made(header, curved);
    expect(asked).toContain("Suunta OD");
  });

  it("are asked where the other eye has none", async () => {
    const lines = rows.map((row) => `${row.id},${row.day},${eye(row)}`);
    const { asked } = await made("Child ID,Screened,Pallo OD,Cyl OD,Suunta OD", lines);
    expect(asked).toContain("Pallo OD");
  });
});

describe("a column beside sphere and cylinder", () => {
  const header = "Child ID,Screened,R sph,R cyl,R axis,R net,L sph,L cyl,L axis,L net";
  const stated = (change: number) =>
    both((row) => `${eye(row)},${(row.sphere + row.cylinder / 2 + change * row.axis).toFixed(2)}`);

  it("that is sphere plus half the cylinder in every row is the equivalent", async () => {
    const { is, asked } = await made(header, stated(0));
    expect([is("R net"), is("L net"), asked]).toEqual(["equivalent", "equivalent", []]);
  });

  it("that is not is asked", async () => {
    expect((await made(header, stated(0.01))).asked).toEqual(["R net", "L net"]);
  });
});

it("a number that sphere, cylinder and axis share, and no axis is, is no power", async () => {
  const lines = both((row) => (row.id % 6 === 0 ? "-9,-9,-9" : eye(row)));
  const { mapping, look } = await made(
    "Child ID,Screened,R sph,R cyl,R axis,L sph,L cyl,L axis",
    lines,
  );
  expect(mapping!.missing).toEqual(["-9"]);
  expect(look.join()).toContain('taken for empty: "-9"');
});

it("a not before the word turns a decision round", async () => {
  const words = ["no derivar", "derivar", "not passed", "nicht überwiesen", "überwiesen"];
  const lines = rows.map(
    (row, at) => `${row.id},${row.day},${eye(row)},${eye(row)},${words[at % 5]}`,
  );
  const { mapping } = await made(
    "Child ID,Screened,R sph,R cyl,R axis,L sph,L cyl,L axis,Decision",
    lines,
  );
  expect(mapping!.readings![0]!.programmeDecision).toEqual({
    codes: {
      ...{ "no derivar": "pass", derivar: "refer", "not passed": "refer" },
      ...{ "nicht überwiesen": "pass", überwiesen: "refer" },
    },
  });
});

it("a second date of a file that holds one measurement is asked", async () => {
  const lines = rows.map((row) => `${row.id},${row.day},2026-08-01,${eye(row)},${eye(row)}`);
  const { asked } = await made(
    "Child ID,Screened,Termin,R sph,R cyl,R axis,L sph,L cyl,L axis",
    lines,
  );
  expect(asked).toEqual(["Termin"]);
});

it("yes and no link no files", async () => {
  const own = mkdtempSync(join(folder, "link-"));
  const power = "1.25,-0.50,90,1.00,-0.25,80";
  const paths = ["screening.csv", "exam.csv"].map((name) => join(own, name));
  const text = (id: string, word: string) =>
    [
      `${id},${word},Seen,R sph,R cyl,R axis,L sph,L cyl,L axis`,
      ...rows.map((row, at) => `${row.id},${at % 3 ? "ei" : "joo"},${row.day},${power}`),
    ].join("\n");
  writeFileSync(paths[0]!, text("Lapsen tunnus", "Lähete"));
  writeFileSync(paths[1]!, text("Tunnus", "Lasit"));
  const { link, choices } = await prepareFiles(paths, undefined, { to: join(own, "study") });
  expect(link.matched).toBe(24);
  expect(choices.files[0]!.columns.Lähete!.is).not.toBe("subject");
});

it("numbers of one eye under a name that nothing knows are asked, whole or few as they may be", async () => {
  const lines = rows.map(
    (row, at) => `${row.id},${row.day},${eye(row)},${eye(row)},${600 + (at % 8)}`,
  );
  const header = "Child ID,Screened,R sph,R cyl,R axis,L sph,L cyl,L axis";
  expect((await made(`${header},Vorpal OD`, lines)).asked).toEqual(["Vorpal OD"]);
  expect((await made(`${header},Vorpal`, lines)).asked).toEqual([]);
});

it("a number of forms is no child's unasked where another column could be", async () => {
  const lines = rows.map((row, at) => `${1000 + at},P${row.id},${row.day},${eye(row)},${eye(row)}`);
  const powers = "Screened,R sph,R cyl,R axis,L sph,L cyl,L axis";
  expect((await made(`Form number,Vorpal,${powers}`, lines)).asked).toContain("Form number");
  expect((await made(`Form number,Child ID,${powers}`, lines)).asked).toEqual([]);
});

it("dates years before those of another file are asked, since they could be those of birth", async () => {
  const own = mkdtempSync(join(folder, "birth-"));
  const paths = ["children.csv", "screening.csv"].map((name) => join(own, name));
  const born = rows.map((row, at) => `${row.id},2019-05-${String(1 + at).padStart(2, "0")}`);
  writeFileSync(paths[0]!, `Child ID,Vorpal\n${born.join("\n")}\n`);
  const header = "Child ID,Screened,R sph,R cyl,R axis,L sph,L cyl,L axis";
  writeFileSync(paths[1]!, `${header}\n${both(eye).join("\n")}\n`);
  const { questions } = await prepareFiles(paths, undefined, { to: join(own, "study") });
  expect(questions.map(({ column, ask }) => [column, ask])).toEqual([
    ["Vorpal", "whether this date, years before the others, is that of birth"],
  ]);
});
