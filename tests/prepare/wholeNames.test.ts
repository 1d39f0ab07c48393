// What a mapping made of names and cells that say more than one thing; each was wrong without a word before.
import { mkdtempSync, rmSync, writeFileSync } from "node:fs";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { afterAll, beforeAll, expect, it } from "vitest";
import { prepareFiles } from "../../src/prepare/index.js";

let folder: string;
beforeAll(() => {
  folder = mkdtempSync(join(tmpdir(), "whole-names-"));
});
afterAll(() => rmSync(folder, { recursive: true }));

/** An exam with one more column, beside a screening. */
async function made(name: string, cells: readonly string[], power = (_: number) => "+1.25") {
  const at = mkdtempSync(join(folder, "files-"));
  const rows = Array.from({ length: 24 }, (_, row) => row);
  const head = "Child ID,DATE,R sph,R cyl,R axis,L sph,L cyl,L axis";
  const line = (row: number, day: string) =>
    `C${100 + row},${day},${power(row)},-0.${row % 2 ? "50" : "75"},${10 + row},+0.75,-0.25,${90 - row}`;
  const exam = rows.map(
    (row) => `${line(row, "2026-05-14")},${row % 2 ? "yes" : "no"},${cells[row % cells.length]}`,
  );
  const texts = {
    "screening.csv": [
      head.replace("DATE", "Screening date"),
      ...rows.map((row) => line(row, "2026-03-17")),
    ],
    "exam.csv": [`${head.replace("DATE", "Exam date")},Cycloplegia,${name}`, ...exam],
  };
  const paths = Object.entries(texts).map(([file, lines]) => {
    writeFileSync(join(at, file), `${lines.join("\n")}\n`);
    return join(at, file);
  });
  const one = await prepareFiles(paths, undefined, { to: join(at, "study") });
  return { ...one, asked: one.questions.map(({ column }) => column) };
}

it("a yes under media clear is no opacity", async () => {
  const { mapping } = await made("Media clear", ["yes", "no"]);
  expect(mapping?.findings?.[0]?.mediaOpacity).toEqual({ codes: { yes: "no", no: "yes" } });
});

it("NA is empty, although a column of words has it for unknown", async () => {
  const { mapping } = await made("Strabismus", ["TRUE", "FALSE", "NA"], (row) =>
    row % 5 ? "+1.25" : "NA",
  );
  expect(mapping?.missing).toEqual(["NA"]);
});

it("a prescription of glasses worn is not that of the exam", async () => {
  const { asked } = await made("Own glasses R", ["+1.00 -0.50 x 90", "-2.00 DS"]);
  expect(asked).toContain("Own glasses R");
});

it("drops consent and better eye are asked, and what the mother has goes", async () => {
  expect((await made("Drops consent", ["yes", "no"])).mapping?.findings?.[0]).toMatchObject({
    right: { cycloplegia: "Cycloplegia" },
  });
  expect((await made("Better eye", ["R", "L"])).asked).toEqual(["Better eye"]);
  const { files } = await made("Mother myopic", ["1", "0"]);
  expect(files[1]?.columns.at(-1)).toMatchObject({ column: "Mother myopic", is: "other" });
});

it("a pupil has a width, or is a child: the age of one is no width", async () => {
  const { files } = await made("Age of pupil (years)", ["4", "5", "6"]);
  expect(files[1]?.columns.at(-1)).toMatchObject({ column: "Age of pupil (years)", is: "age" });
  const { files: wide } = await made("R pupil (mm)", ["4.5", "5.5", "6"]);
  expect(wide[1]?.columns.at(-1)).toMatchObject({ is: "pupil" });
});
