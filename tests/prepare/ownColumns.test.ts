// What a raw export says beside the measurements, sex, examiner, grade, weight, becomes own columns of the study files.
import { mkdtempSync, readFileSync, rmSync, writeFileSync } from "node:fs";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { afterAll, expect, it } from "vitest";
import { auditFile, linkCohort, readFindings, readReadings } from "../../src/cohort/index.js";
import { prepareFiles } from "../../src/prepare/index.js";
import { defineProtocol } from "../../src/protocol/index.js";
import { draftStudy, runStudy } from "../../src/study/index.js";

const folder = mkdtempSync(join(tmpdir(), "prepare-own-"));
afterAll(() => rmSync(folder, { recursive: true }));

/** Invented: 40 children; the odd ones are boys, seen by another screener, and weigh 1,5. */
const children = Array.from({ length: 40 }, (_, at) => ({
  id: `K${100 + at}`,
  odd: at % 2 === 1,
  power: (at % 9) / 2 - 2,
  grade: 1 + (at % 3),
}));
const screening = [
  "Child ID;School;Screened on;Sex;Examiner;Grade;Weight;Empty;OD sph;OD cyl;OD axis",
  ...children.map(({ id, odd, power, grade }) =>
    [
      ...[id, odd ? "Oak Hill" : "Riverbend", "2026-03-10", odd ? "M" : "F"],
      ...[odd ? "Anna Berg" : "Carl Dorn", grade, odd ? "1,5" : "0,25", ""],
      ...[power, "-0.50", "90"],
    ].join(";"),
  ),
];
const exams = [
  "Child ID;Exam date;Examiner;Drops;OD sph;OD cyl;OD axis",
  ...children.map(({ id, odd, power }) =>
    [
      ...[id, "2026-04-10", odd ? "Eva Falk" : "Gerd Holm", "yes"],
      ...[power + 0.25, "-0.50", "90"],
    ].join(";"),
  ),
];

it("from two exports to a study in groups of an own column, and no name of an examiner", async () => {
  const paths = Object.entries({ "screening.csv": screening, "exam.csv": exams }).map(
    ([name, lines]) => {
      writeFileSync(join(folder, name), lines.join("\n"));
      return join(folder, name);
    },
  );
  const to = join(folder, "study");
  // a grade is no place: it stays as it is, unasked
  const { written, mapping, leftOut, questions } = await prepareFiles(paths, undefined, { to });
  expect(questions).toEqual([]);
  expect(written).toBe(true);
  expect(mapping).toMatchObject({
    readings: [
      {
        own: {
          sex: "Sex",
          examiner: "Examiner",
          Grade: "Grade",
          Weight: { column: "Weight", type: "number" },
        },
      },
    ],
    findings: [{ own: { examiner: "Examiner" } }],
  });
  expect(leftOut).toMatchObject([{ column: "Empty", why: "no cell is filled" }]);
  const files = { readings: join(to, "readings.csv"), findings: join(to, "findings.csv") };
  for (const path of Object.values(files)) {
    expect(readFileSync(path, "utf8")).not.toMatch(/Anna|Berg|Carl|Dorn|Eva|Falk|Gerd|Holm/);
  }
  const fates = JSON.parse(readFileSync(join(to, "prepare.json"), "utf8")).files[0].columns;
  expect(fates.Weight).toMatchObject({ fate: "keep", is: "other" });
  expect(fates.Examiner).toMatchObject({ fate: "code", is: "examiner" });

  for (const kind of ["readings", "findings"] as const) {
    const audit = await auditFile(files[kind], { columns: mapping!, only: kind });
    expect(audit.identifiers).toEqual([]);
  }
  const cohort = linkCohort({
    readings: await readReadings(files.readings, { columns: mapping! }),
    findings: await readFindings(files.findings, { columns: mapping! }),
  });
  const own = Object.fromEntries(cohort.children.own!.map((one) => [one.label, one]));
  expect([...(own.Weight!.values as Float64Array)].reduce((sum, one) => sum + one)).toBe(35);
  expect([...(own.examiner!.values as { labels: readonly string[] }).labels].sort()).toEqual([
    "",
    expect.stringMatching(/^Examiner 0\d$/),
    expect.stringMatching(/^Examiner 0\d$/),
  ]);

  const draft = await draftStudy({ ...files, folder: to });
  const study = await runStudy(
    defineProtocol({
      ...(draft.files["protocol.json"] as object),
      verification: "complete",
      unit: "eye",
      eye: "right",
      programme: undefined,
      replicates: 0,
      subgroups: [{ by: "own", column: "sex" }],
      baseline: { own: ["Weight", "Grade"], by: "sex" },
    }),
    { folder: to },
  );
  const groups = study.agreement.find(({ quantity }) => quantity === "M")!.subgroups;
  expect(JSON.stringify(groups)).toMatch(/"F".*"M"/);
  expect(study.baseline.columns.map(({ label }) => label)).toEqual([
    "Characteristic",
    "All",
    "F",
    "M",
  ]);
  const rowOf = (label: string) => study.baseline.rows.find(({ cells }) => cells[0] === label);
  expect(rowOf("Children")!.cells.slice(1)).toEqual([40, 20, 20]);
  expect(rowOf("Weight, mean")!.cells.slice(1)).toEqual([0.875, 0.25, 1.5]);
  expect(rowOf("Grade: 1")!.cells.slice(1)).toEqual([14, 7, 7]);
});

it("a draft of a raw file names the examiners as numbers", async () => {
  const at = mkdtempSync(join(folder, "raw-"));
  const files = { readings: join(at, "readings.csv"), findings: join(at, "findings.csv") };
  writeFileSync(files.readings, screening.join("\n"));
  writeFileSync(files.findings, exams.join("\n"));
  const draft = await draftStudy({ ...files, folder: at });
  expect(draft.files["columns.json"]).toMatchObject({
    readings: [{ own: { sex: "Sex", examiner: { column: "Examiner", coded: true } } }],
    findings: [{ own: { examiner: { column: "Examiner", coded: true } } }],
  });
});
