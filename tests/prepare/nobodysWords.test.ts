// What prepare shows of cells and writes of kept columns holds nobody's id, date, mail address or name, although the
// rest of the cell is a word of its column. Each case was a leak that the mutated layouts found.
import { mkdtempSync, readdirSync, readFileSync, rmSync, writeFileSync } from "node:fs";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { afterAll, expect, it } from "vitest";
import { prepareFiles } from "../../src/prepare/index.js";

const folder = mkdtempSync(join(tmpdir(), "nobody-"));
afterAll(() => rmSync(folder, { recursive: true }));

const ids = Array.from({ length: 12 }, (_, at) => 7_000_341 + 37 * at);
const seen = (day: number) => `2026-03-${10 + day}`;

/** A screening and an exam in which one cell of a column is another; all that is shown and written, but the key. */
async function shown(column: string, words: readonly [string, string], odd: string) {
  const at = mkdtempSync(join(folder, "case-"));
  const files = [join(at, "screening.csv"), join(at, "exam.csv")];
  const cell = (row: number) => (row === 4 ? odd : words[row % 2]);
  writeFileSync(
    files[0]!,
    [
      `MRN,Patient Name,DOB,Screened on,${column},R sph,R cyl,R axis`,
      ...ids.map(
        (id, row) =>
          `${id},Quorra Vexley${"abcdefghijkl"[row]},2019-05-${10 + row},${seen(row)},${cell(row)},+1.00,-0.50,${90 + row}`,
      ),
    ].join("\n"),
  );
  writeFileSync(
    files[1]!,
    [
      "MRN,Exam date,Drops,R sph,R cyl,R axis",
      ...ids.map((id, row) => `${id},2026-04-${10 + row},yes,+1.25,-0.50,${80 + row}`),
    ].join("\n"),
  );
  const to = join(at, "study");
  const first = await prepareFiles(files, undefined, { to });
  const second = await prepareFiles(files, structuredClone(first.choices), { to });
  expect(second.written).toBe(true);
  const written = readdirSync(to).map((name) => readFileSync(join(to, name), "utf8"));
  return [JSON.stringify(first), JSON.stringify(second), ...written].join("\n");
}

it.each([
  ["Result", ["Refer", "Pass"], "Refer 7000415", "7000415"],
  ["Result", ["Refer", "Pass"], "Pass 13/05/2019", "13/05/2019"],
  ["Result", ["Refer", "Pass"], "Refer Vexleyc", "Vexleyc"],
  ["Result", ["Refer", "Pass"], "VEXLEYZ", "VEXLEYZ"],
  ["R status", ["measured", "no reading"], "quorra@example.invalid", "quorra@"],
  ["Sex", ["F", "M"], "8000489", "8000489"],
  ["R logMAR", ["0.1", "0.2"], "0000499", "0000499"],
  ["Result", ["Refer", "Pass"], "Refer Tamsin", "Tamsin"],
  ["Result", ["Refer", "Pass"], "Refer BESNARDT", "BESNARDT"],
  ["Result", ["Refer", "Pass"], "Mokoenit", "Mokoenit"],
  ["Result", ["Refer", "Pass"], "Wadgaon Khurd Pass", "Khurd"],
  ["Result", ["Refer", "Pass"], "Pass 0491 570 145", "0491 570"],
  ["R status", ["measured", "no reading"], "no reading A4204", "A4204"],
  ["R VA", ["6/6", "6/12"], "00-2375", "00-2375"],
  ["Diagnosis", ["myopia", "H52.13"], "L00703", "L00703"],
  ["Glasses worn", ["Y", "N"], "Y 03 Oct 2020", "03 Oct"],
] as const)("%s, %s and %s", async (column, words, odd, secret) => {
  expect(await shown(column, words, odd)).not.toContain(secret);
});

it("the least and the greatest id stand nowhere", async () => {
  const text = await shown("Result", ["Refer", "Pass"], "Pass");
  for (const id of ids) expect(text).not.toContain(String(id));
});

it.each([
  ["surnames", "Vexley Quarrow Norvik Amberle Tolliver Fennimoor Ostrander Pellwick".split(" ")],
  ["names with a comma", ["Kranewitt, Bruno", "Clausner, Cora", "Ulmgren, Pavel"]],
  ["addresses", ["17 Ferry Lane", "19 Lark Rise", "24 Tannery Row"]],
  ["villages", ["Kerewood", "Doddabank", "Kerewood Thandy"]],
  ["numbers of records", Array.from({ length: 64 }, (_, at) => `00-${2200 + 7 * at}`)],
])("%s under the name of a diagnosis are asked, and none is shown", async (_, surnames) => {
  const at = mkdtempSync(join(folder, "case-"));
  const files = [join(at, "screening.csv"), join(at, "exam.csv")];
  const rows = Array.from({ length: 64 }, (_, row) => row);
  writeFileSync(
    files[0]!,
    [
      "MRN,DOB,Screened on,R sph,R cyl,R axis",
      ...rows.map(
        (row) =>
          `${5_000_300 + 7 * row},2019-05-${10 + (row % 18)},2026-03-${10 + (row % 18)},+1.00,-0.50,${90 + row}`,
      ),
    ].join("\n"),
  );
  writeFileSync(
    files[1]!,
    [
      "MRN,Exam date,Drops,Diagnosis,R sph,R cyl,R axis",
      ...rows.map(
        (row) =>
          `${5_000_300 + 7 * row},2026-04-${10 + (row % 18)},yes,"${surnames[row % surnames.length]}",+1.25,-0.50,${80 + row}`,
      ),
    ].join("\n"),
  );
  const first = await prepareFiles(files, undefined, { to: join(at, "study") });
  expect(first.written).toBe(false);
  expect(first.questions.map(({ column }) => column)).toContain("Diagnosis");
  for (const surname of surnames) expect(JSON.stringify(first)).not.toContain(surname);
});

it.each([
  ["Gender", "sex"],
  ["L sph", "sphere"],
])("names under %s are not kept, though a person said that it is one", async (heading, is) => {
  const at = mkdtempSync(join(folder, "case-"));
  const files = [join(at, "screening.csv"), join(at, "exam.csv")];
  const names = ["Eschgrund", "Kleewald", "Birkhain"];
  const rows = Array.from({ length: 60 }, (_, row) => row);
  const id = (row: number) => 7_000_341 + 37 * row;
  writeFileSync(
    files[0]!,
    [
      `MRN,${heading},DOB,Screened on,R sph,R cyl,R axis`,
      ...rows.map(
        (row) =>
          `${id(row)},${names[row % 3]},2019-05-${10 + (row % 20)},2026-03-${10 + (row % 20)},+1.00,-0.50,${90 + row}`,
      ),
    ].join("\n"),
  );
  writeFileSync(
    files[1]!,
    [
      "MRN,Exam date,Drops,R sph,R cyl,R axis",
      ...rows.map((row) => `${id(row)},2026-04-${10 + (row % 20)},yes,+1.25,-0.50,${80 + row}`),
    ].join("\n"),
  );
  const to = join(at, "study");
  const first = await prepareFiles(files, undefined, { to });
  const choices = JSON.parse(JSON.stringify(first.choices));
  Object.assign(choices.files[0].columns[heading], { is, fate: "keep", loses: 60 });
  const second = await prepareFiles(files, choices, { to });
  const written = readdirSync(to).map((name) => readFileSync(join(to, name), "utf8"));
  const all = [JSON.stringify(first), JSON.stringify(second), ...written].join("\n");
  expect(second.written).toBe(true);
  for (const name of names) expect(all).not.toContain(name);
});

it("a short code of a child is found in another column, as most ids are written so", async () => {
  const at = mkdtempSync(join(folder, "case-"));
  const files = [join(at, "screening.csv"), join(at, "exam.csv")];
  const rows = Array.from({ length: 20 }, (_, row) => row);
  writeFileSync(
    files[0]!,
    [
      "Child code,Flagged,DOB,Screened on,R sph,R cyl,R axis",
      ...rows.map(
        (row) =>
          `bus${10 + row},${row === 3 ? "bus77" : row % 2},2019-05-10,2026-03-10,+1.00,-0.50,${90 + row}`,
      ),
    ].join("\n"),
  );
  writeFileSync(
    files[1]!,
    [
      "Child code,Exam date,Drops,R sph,R cyl,R axis",
      ...rows.map((row) => `bus${10 + row},2026-04-10,yes,+1.25,-0.50,${80 + row}`),
    ].join("\n"),
  );
  const to = join(at, "study");
  const first = await prepareFiles(files, undefined, { to });
  const second = await prepareFiles(files, structuredClone(first.choices), { to });
  const written = readdirSync(to).map((name) => readFileSync(join(to, name), "utf8"));
  const all = [JSON.stringify(first), JSON.stringify(second), ...written].join("\n");
  expect(all).not.toContain("bus77");
});

it("a family's name is a name, although the word for a family stands in it", async () => {
  const at = mkdtempSync(join(folder, "case-"));
  const files = [join(at, "screening.csv"), join(at, "exam.csv")];
  const names = "Eschgrund Kleewald Birkhain Nussdorn Talheide".split(" ");
  writeFileSync(
    files[0]!,
    [
      "Kind-Nr.,Familienname,Alter,Untersucht am,Sph. re.,Zyl. re.,Achse re.",
      ...ids.map((id, row) => `${id},${names[row % 5]},5,${seen(row)},+1.00,-0.50,${90 + row}`),
    ].join("\n"),
  );
  writeFileSync(
    files[1]!,
    [
      "Kind-Nr.,Datum der Untersuchung,In Zykloplegie,Sph. re.,Zyl. re.,Achse re.",
      ...ids.map((id, row) => `${id},2026-04-${10 + row},ja,+1.25,-0.50,${80 + row}`),
    ].join("\n"),
  );
  const { files: prepared } = await prepareFiles(files, undefined, { to: join(at, "study") });
  const name = prepared[0]!.columns.find(({ column }) => column === "Familienname");
  expect([name?.is, name?.fate]).toEqual(["name", "drop"]);
});

it("a number beyond all ages is not shown where the unit of ages is asked", async () => {
  const at = mkdtempSync(join(folder, "case-"));
  const files = [join(at, "screening.csv"), join(at, "exam.csv")];
  writeFileSync(
    files[0]!,
    [
      "MRN,Age,Screened on,R sph,R cyl,R axis",
      ...ids.map(
        (id, row) =>
          `${id},${row === 3 ? 9000099314 : 3 + row},${seen(row)},+1.00,-0.50,${90 + row}`,
      ),
    ].join("\n"),
  );
  writeFileSync(
    files[1]!,
    [
      "MRN,Exam date,Drops,R sph,R cyl,R axis",
      ...ids.map((id, row) => `${id},2026-04-${10 + row},yes,+1.25,-0.50,${80 + row}`),
    ].join("\n"),
  );
  const first = await prepareFiles(files, undefined, { to: join(at, "study") });
  expect(JSON.stringify(first)).not.toContain("9000099314");
});
