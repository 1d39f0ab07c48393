import { readFile } from "node:fs/promises";
import { beforeAll, describe, expect, test } from "vitest";
import {
  type Cohort,
  eyeOutcomes,
  type Findings,
  linkCohort,
  type Problem,
  type Readings,
  readFindings,
  readReadings,
  suspectedMismatches,
  suspectedSharedNumbers,
} from "../../src/cohort/index.js";

interface Fault {
  readonly id: string;
  readonly file: string;
  readonly rule: string | null;
  readonly count: number;
  readonly lines: readonly number[];
}

// The demo programme is invented; planted-faults.json is the list that its generator wrote.
let readings: Readings;
let findings: Findings;
let faults: readonly Fault[];

beforeAll(async () => {
  const json = async (name: string) => JSON.parse(await readFile(`data/demo/${name}`, "utf8"));
  const columns = await json("columns.json");
  faults = await json("planted-faults.json");
  readings = await readReadings("data/demo/invented-readings.csv", {
    columns,
    // the planted age of 1999 months looks like that of somebody over 89
    allowIdentifiers: ["age_months"],
  });
  findings = await readFindings("data/demo/invented-findings.csv", { columns });
});

const problemsOf = ({ file }: Fault): readonly Problem[] =>
  file.includes("readings") ? readings.problems : findings.problems;

describe("the planted faults of the demo programme", () => {
  test("every fault with a reader's rule is found on every line it was planted on", () => {
    const visible = faults.filter(({ rule }) => rule !== null && rule !== "eyes-swapped");
    expect(visible).toHaveLength(25);
    for (const fault of visible) {
      const found = new Set(
        problemsOf(fault).flatMap(({ rule, row }) => (rule === fault.rule ? [row] : [])),
      );
      expect(fault.lines).toHaveLength(fault.count);
      expect({ [fault.id]: fault.lines.filter((line) => !found.has(line)) }).toEqual({
        [fault.id]: [],
      });
    }
  });

  test("these rules are broken on no other line", () => {
    const own = [
      "sphere-range",
      "axis-range",
      "age-range",
      "age-not-whole",
      "subject-missing",
      "eye-unknown",
      "ragged-row",
      "word-unknown",
    ];
    for (const rule of own) {
      for (const file of ["invented-readings.csv", "invented-findings.csv"]) {
        const planted = faults.filter((fault) => fault.rule === rule && fault.file === file);
        const { problems } = file.includes("readings") ? readings : findings;
        const lines = problems.flatMap((problem) => (problem.rule === rule ? [problem.row] : []));
        const expected = planted.flatMap((fault) => fault.lines);
        expect([...new Set(lines)].sort()).toEqual(expected.sort());
      }
    }
  });

  test("axis 0 for 180 and a typographic minus are no faults", () => {
    for (const id of ["axis-zero", "unicode-minus"]) {
      const { lines } = faultOf(id);
      const listed = readings.problems.filter(
        ({ row, action }) => action !== "kept" && row !== null && lines.includes(row),
      );
      expect(listed).toEqual([]);
    }
    const minus = faultOf("unicode-minus").lines;
    readings.line.forEach((line, row) => {
      if (!minus.includes(line) || readings.eye.codes[row] !== 0) return;
      expect(readings.cylinder[row]).toBeLessThan(0);
    });
  });

  test("readings through glasses, empty rows: their own status, each", () => {
    const of = (id: string) => {
      const lines = new Set(faultOf(id).lines);
      return [...readings.line.keys()].filter((row) => lines.has(readings.line[row]));
    };
    const empty = of("both-empty").map((row) => readings.status.labels[readings.status.codes[row]]);
    expect(empty).toEqual(new Array(60).fill("not-attempted"));
    const worn = of("through-glasses").map(
      (row) => readings.correction.labels[readings.correction.codes[row]],
    );
    expect(worn).toEqual(new Array(120).fill("glasses"));
  });

  test("linkage: unmatched, too early and too late findings end in their own outcome", () => {
    const cohort = linkCohort({ readings, findings, correction: "none", daysBetween: [0, 365] });
    expect(outcomesOf("unmatched", findings, cohort)).toEqual(["exam-only"]);
    for (const [id, outcome] of [
      ["exam-before-visit", "before-screening"],
      ["exam-a-year-later", "outside-window"],
    ]) {
      // an eye without a reading that can be used ends there, before its exam is asked for
      const readable = outcomesOf(id, findings, cohort).filter(
        (reached) => !["unreadable", "over-range", "under-range"].includes(reached),
      );
      expect({ [id]: readable }).toEqual({ [id]: [outcome] });
    }
  });

  test("two children under one number are listed, and little else among the readings", () => {
    const listed = suspectedSharedNumbers(linkCohort({ readings, findings, correction: "none" }));
    const lines = listed.filter(({ file }) => file === "readings").map(({ row }) => row);
    expect(lines).toEqual(faults.find(({ id }) => id === "number-shared")?.lines);
  });

  test("exams without drops, or without a word on them, are no reference when drops are asked for", () => {
    const cohort = linkCohort({
      readings,
      findings,
      correction: "none",
      repeats: "last",
      referenceCycloplegia: ["full"],
    });
    for (const id of ["without-drops", "drops-unknown"]) {
      const outcomes = outcomesOf(id, findings, cohort);
      expect(outcomes).toContain("other-cycloplegia");
      expect(outcomes).not.toContain("paired");
    }
  });

  test("eligibility: an age in years is out of the programme, no age is unclear", () => {
    const cohort = linkCohort({
      readings,
      findings,
      correction: "none",
      eligibility: { ageMonths: [36, 84] },
    });
    expect(outcomesOf("age-in-years", readings, cohort)).toEqual(["not-eligible"]);
    expect(outcomesOf("age-missing", readings, cohort)).toContain("age-unclear");
  });

  test("15 exchanged rows among thousands are no exchanged file; all exchanged are", () => {
    const rulesOf = (changed: Readings) =>
      suspectedMismatches(linkCohort({ readings: changed, findings, correction: "none" })).map(
        ({ rule }) => rule,
      );
    expect(rulesOf(readings)).toEqual([]);
    const codes = readings.eye.codes.map((code) => 1 - code);
    expect(rulesOf({ ...readings, eye: { ...readings.eye, codes } })).toEqual(["eyes-swapped"]);
  });
});

/** The distinct outcomes of both eyes of the children on the fault's lines. */
function outcomesOf(id: string, data: Readings | Findings, { children }: Cohort): string[] {
  const lines = new Set(faultOf(id).lines);
  const subjects = new Set<string>();
  data.line.forEach((line, row) => {
    if (lines.has(line)) subjects.add(data.subject.labels[data.subject.codes[row]]);
  });
  expect(subjects.size).toBeGreaterThan(0);
  const outcomes = children.subject.flatMap((subject, child) =>
    subjects.has(subject)
      ? [children.outcome?.right[child] ?? 255, children.outcome?.left[child] ?? 255]
      : [],
  );
  return [...new Set(outcomes.filter((code) => code !== 255).map((code) => eyeOutcomes[code]))];
}

function faultOf(id: string): Fault {
  const fault = faults.find((entry) => entry.id === id);
  if (fault === undefined) throw new Error(`no fault ${id}`);
  return fault;
}
