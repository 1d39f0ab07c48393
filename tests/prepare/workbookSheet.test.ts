// A workbook with several sheets: nothing of it is taken for answered before a sheet is named.
import { mkdtempSync, readFileSync, rmSync, writeFileSync } from "node:fs";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { afterAll, beforeAll, expect, it } from "vitest";
import * as xlsx from "xlsx";
import { prepareFiles } from "../../src/prepare/index.js";

let folder: string;
beforeAll(() => {
  folder = mkdtempSync(join(tmpdir(), "sheet-"));
});
afterAll(() => rmSync(folder, { recursive: true }));

/** A screening with padded ids, and exams on the second sheet of a workbook that begins with a cover. */
function raw(): string[] {
  const at = mkdtempSync(join(folder, "raw-"));
  const rows = Array.from({ length: 9 }, (_, row) => row);
  writeFileSync(
    join(at, "screening.csv"),
    [
      "Pupil No,Screening date,R sph,R cyl,R axis",
      ...rows.map((row) => `00${70 + row},2026-02-1${row},+1.25,-0.50,${10 + row}`),
    ].join("\n"),
  );
  const book = xlsx.utils.book_new();
  const sheet = (name: string, cells: unknown[][]) =>
    xlsx.utils.book_append_sheet(book, xlsx.utils.aoa_to_sheet(cells), name);
  sheet("Cover", [["Eye clinic list"], ["printed in the spring"]]);
  sheet("Exams", [
    ["Child ref", "Exam date", "R sph", "R cyl", "R axis", "Drops"],
    ...rows.slice(2).map((row) => [70 + row, `2026-03-1${row}`, "+1.00", "-0.25", 9, "yes"]),
  ]);
  xlsx.writeFile(book, join(at, "clinic.xlsx"));
  return [join(at, "screening.csv"), join(at, "clinic.xlsx")];
}

it("asks for the sheet first, then for everything that hangs on it, and writes under its own name", async () => {
  const files = raw();
  const to = join(mkdtempSync(join(folder, "to-")), "study");
  const answers = () => JSON.parse(readFileSync(join(to, "prepare.json"), "utf8"));
  const first = await prepareFiles(files, undefined, { to });
  expect(first.questions).toMatchObject([
    { file: "clinic.xlsx", key: "sheet", allowed: ["Cover", "Exams"] },
  ]);
  // nothing of the cover, and no comparison of ids, is written down as an answer
  const open = answers();
  expect(open.files[1]).toMatchObject({ sheet: null, holds: null, columns: {} });
  expect(open.ids.ignore).toBeNull();

  open.files[1].sheet = "Exams";
  const second = await prepareFiles(files, open, { to });
  expect(second.questions.map(({ key }) => key)).toEqual(["ids.ignore"]);
  expect(second.files.map(({ holds }) => holds)).toEqual([["readings"], ["findings"]]);

  const last = answers();
  last.ids.ignore = ["leading-zeros"];
  const third = await prepareFiles(files, last, { to });
  expect(third.written).toBe(true);
  expect(third.link.matched).toBe(7);
  expect(third.files.map(({ as }) => as)).toEqual(["readings.csv", "findings.csv"]);
});

it("an answer about ids holds while no way matches more, and is asked anew when one does", async () => {
  const [screening, clinic] = raw();
  const to = join(mkdtempSync(join(folder, "to-")), "study");
  // one child in common as written
  const rows = ["72,2026-03-12,+1.00,-0.25,9,yes", "0071,2026-03-12,+1.00,-0.25,9,yes"];
  const exam = join(clinic!, "..", "exam.csv");
  writeFileSync(exam, `Child ref,Exam date,R sph,R cyl,R axis,Drops\n${rows.join("\n")}\n`);
  const first = await prepareFiles([screening!, exam], undefined, { to });
  expect(first.questions.map(({ key }) => key)).toEqual(["ids.ignore"]);
  const choices = JSON.parse(readFileSync(join(to, "prepare.json"), "utf8"));
  expect(choices.ids.wouldMatch).toBe(2);
  choices.ids.ignore = [];
  const second = await prepareFiles([screening!, exam], choices, { to });
  expect([second.written, second.link.matched]).toEqual([true, 1]);
  writeFileSync(exam, `${readFileSync(exam, "utf8")}74,2026-03-12,+1.00,-0.25,9,yes\n`);
  const third = await prepareFiles([screening!, exam], second.choices, { to });
  expect(third.questions.map(({ key }) => key)).toEqual(["ids.ignore"]);
  expect(third.questions[0]!.ask).toContain(
    "1 of 3 match as written; 3 would match without leading zeros",
  );
});

it("what was detected keeps its reason in the second call, and what a person changed is said", async () => {
  const [screening, clinic] = raw();
  const to = join(mkdtempSync(join(folder, "to-")), "study");
  const { choices } = await prepareFiles([screening!, clinic!], undefined, { to });
  const changed = JSON.parse(JSON.stringify(choices));
  changed.files[0].columns["R axis"] = { is: "other", fate: "drop" };
  const second = await prepareFiles([screening!, clinic!], changed, { to });
  const because = Object.fromEntries(
    second.files[0]!.columns.map(({ column, because }) => [column, because]),
  );
  expect(because["R axis"]).toBe("said");
  expect(because["Screening date"]).toBe("9 of 9 cells are dates of this form");
  expect(because["R sph"]).toContain("by its name, and numbers from");
});
