// Two exports as systems write them, 1,588 screenings in 8 schools and 251 exams, all invented: from raw files to a
// draft that audit accepts, with nothing lost unasked on the way.
import { mkdtempSync, readFileSync, rmSync, writeFileSync } from "node:fs";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { afterAll, expect, it } from "vitest";
import { auditFile } from "../../src/cohort/index.js";
import { prepareFiles } from "../../src/prepare/index.js";
import { draftStudy } from "../../src/study/index.js";

const folder = mkdtempSync(join(tmpdir(), "exports-"));
afterAll(() => rmSync(folder, { recursive: true }));

const screened = 1588;
const examined = 251;
const day = 86_400_000;
const two = (value: number) => String(value).padStart(2, "0");
/** MM/DD/YYYY, so many days after 12 January 2025. */
function american(days: number): string {
  const date = new Date(Date.UTC(2025, 0, 12) + days * day);
  return `${two(date.getUTCMonth() + 1)}/${two(date.getUTCDate())}/${date.getUTCFullYear()}`;
}
const seen = (child: number) => (child * 7) % 200;
/** Days from a child's screening to its exam: one long before, one soon, one long after, the rest in between. */
const delays = [-214, 61, 836];
const delay = (child: number) => delays[child] ?? 20 + (child % 60);
const signed = (value: number) => `${value < 0 ? "-" : "+"}${Math.abs(value).toFixed(2)}`;
const rx = (at: number) =>
  at % 5 === 0
    ? `${signed(((at * 7) % 20) / 4 - 2)} sph`
    : `${signed(((at * 7) % 20) / 4 - 2)} ${signed(-(1 + (at % 6)) / 4)} @ ${1 + ((at * 31) % 180)}`;

/** @param padded whether the exam of a child writes its number without the zeros of the screening */
function written(padded: (child: number) => boolean): string[] {
  const at = mkdtempSync(join(folder, "raw-"));
  const screening = [
    "Row,Pupil ID,Age,School,Screening Date,Rx R,Rx L,Pupil R mm,Pupil L mm,Confidence,Comments",
  ];
  for (let child = 0; child < screened; child++) {
    const number = `00${2000 + child}`;
    screening.push(
      [
        ...[child + 1, padded(child) ? number : 2000 + child, (4 + (child % 60) / 12).toFixed(2)],
        ...[
          `School of ${"ABCDEFGH"[child % 8]} Street`,
          american(seen(child)),
          rx(child),
          rx(child + 9),
        ],
        ...[(4 + (child % 30) / 10).toFixed(1), (4 + (child % 29) / 10).toFixed(1), child % 100],
        child % 40 === 0 ? "was tired and moved a lot" : "",
      ].join(","),
    );
  }
  const exams = [
    "Patient No,Exam Date,OD Sph,OD Cyl,OD Axis,OS Sph,OS Cyl,OS Axis,Cycloplegia,Examiner",
  ];
  for (let child = 0; child < examined; child++) {
    exams.push(
      [
        ...[
          2000 + child,
          american(seen(child) + delay(child)),
          "+1.25",
          "-0.50",
          1 + (child % 180),
        ],
        ...[
          "+0.75",
          "-0.25",
          1 + (child % 179),
          child % 9 ? "yes" : "no",
          ["Ada Loam", "Ben Sedge"][child % 2],
        ],
      ].join(","),
    );
  }
  const paths = [join(at, "screening.csv"), join(at, "exam.csv")];
  writeFileSync(paths[0]!, screening.join("\n"));
  writeFileSync(paths[1]!, exams.join("\n"));
  return paths;
}
const newFolder = () => join(mkdtempSync(join(folder, "to-")), "study");
const link = async (padded: (child: number) => boolean) => {
  const made = await prepareFiles(written(padded), undefined, { to: newFolder() });
  return made.questions.find(({ key }) => key === "ids.ignore")?.ask;
};

it("padded ids are offered with their counts, in some rows and in all", async () => {
  const offer = "251 would match without leading zeros";
  expect(await link((child) => child < 70)).toBe(`181 of 251 match as written; ${offer}`);
  expect(await link(() => true)).toBe(`0 of 251 match as written; ${offer}`);
  expect(await link(() => false)).toBeUndefined();
});

it("keeps the interval, the prescriptions, pupils and score; drops what could name a child, and says so", async () => {
  const files = written(() => true);
  const to = newFolder();
  const first = await prepareFiles(files, undefined, { to });
  expect(first.questions.map(({ key }) => key)).toEqual(["ids.ignore"]);
  expect(first.unseenLosses).toEqual([{ file: "screening.csv", column: "Comments", loses: 40 }]);
  const choices = JSON.parse(JSON.stringify(first.choices));
  choices.ids.ignore = ["leading-zeros"];
  const {
    written: done,
    link,
    outOfOrder,
    files: made,
  } = await prepareFiles(files, choices, { to });
  expect([done, link.matched]).toEqual([true, examined]);
  expect(outOfOrder).toMatchObject([{ line: 2, what: "the exam is before the screening" }]);
  const fates = made.flatMap(({ columns }) => columns.map(({ column, fate }) => [column, fate]));
  expect(Object.fromEntries(fates)).toMatchObject({
    ...{ Row: "drop", Comments: "drop", School: "code", Examiner: "code" },
    ...{ "Rx R": "keep", "Rx L": "keep", Confidence: "keep", "Pupil R mm": "keep" },
  });

  const key = readFileSync(join(`${to}-key`, "children.csv"), "utf8")
    .trim()
    .split("\n")
    .slice(1);
  const numberOf = (id: number) => key.find((line) => line.includes(`"${id}"`))!.split(",")[0]!;
  const [names, ...rows] = readFileSync(join(to, "findings.csv"), "utf8")
    .trim()
    .split("\n")
    .map((line) => line.split(","));
  const dayOf = (id: number) =>
    rows.find((row) => row[names!.indexOf("subject")] === numberOf(id))![names!.indexOf("day")];
  expect([2000, 2001, 2002].map(dayOf)).toEqual(["-214", "61", "836"]);
  const readings = readFileSync(join(to, "readings.csv"), "utf8");
  expect(readings).toMatch(/Site 08/);
  expect(readings).not.toMatch(/Street|tired|[-/]2025|2025[-/]/);

  const sources = { readings: join(to, "readings.csv"), findings: join(to, "findings.csv") };
  const draft = await draftStudy({ ...sources, folder: to });
  expect(draft.takenOver).toBe(join(to, "columns.json"));
  expect(draft.files["columns.json"]).toMatchObject({
    readings: [
      { right: { prescription: "Rx R", pupilMm: "Pupil R mm", confidenceScore: "Confidence" } },
    ],
  });
  for (const only of ["readings", "findings"] as const) {
    const audit = await auditFile(sources[only], { columns: draft.files["columns.json"]!, only });
    expect([audit.identifiers, audit.setAside]).toEqual([[], 0]);
    expect(audit.parts.flatMap(({ faults }) => faults)).toEqual([]);
  }
});
