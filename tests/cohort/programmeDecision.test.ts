import { describe, expect, it } from "vitest";
import {
  examsBeforeScreening,
  linkCohort,
  readFindings,
  readReadings,
} from "../../src/cohort/index.js";
import { simulateCohort } from "../../src/simulation/index.js";

const eye = { eye: "OD", sphere: 1, cylinder: 0, axis: 0 };
const both = (row: object) => [
  { ...eye, ...row },
  { ...eye, eye: "OS", ...row },
];

describe("what the programme decided", () => {
  it("is read by its words, and an unknown word is named with its line", async () => {
    const readings = await readReadings([
      { ...eye, subject: "a", programmeDecision: "refer", invited: "yes", came: "no" },
      { ...eye, subject: "b", programmeDecision: "perhaps", invited: "no", came: "" },
    ]);
    expect(readings.programmeDecision!.labels[readings.programmeDecision!.codes[0]]).toBe("refer");
    expect(readings.programmeDecision!.labels[readings.programmeDecision!.codes[1]]).toBe(
      "unknown",
    );
    expect(readings.problems).toMatchObject([
      { rule: "word-unknown", row: 2, column: "programmeDecision", value: "perhaps" },
    ]);
    const coded = await readReadings([{ ...eye, subject: "a", verdict: "R" }], {
      columns: {
        kind: "columns",
        version: 1,
        columns: { subject: "subject", eye: "eye" },
        readings: [
          {
            programmeDecision: { codes: { R: "refer", P: "pass", U: "unable" } },
            columns: { sphere: "sphere", programmeDecision: "verdict" },
          },
        ],
      },
    });
    expect(coded.programmeDecision!.codes[0]).toBe(0);
    expect((await readReadings([{ ...eye, subject: "a" }])).programmeDecision).toBeNull();
  });

  // rows in memory have no header: the first is line 1
  it("that contradicts the reading is listed with its line and the cure", async () => {
    const nothing = { sphere: "", cylinder: "", axis: "", status: "unreadable" };
    const readings = await readReadings([
      ...both({ subject: "a", programmeDecision: "unable" }),
      ...both({ subject: "b", programmeDecision: "pass", ...nothing }),
      ...both({ subject: "c", programmeDecision: "unable", ...nothing }),
      ...both({ subject: "d", programmeDecision: "pass", repeat: 1 }),
      ...both({ subject: "d", programmeDecision: "refer", repeat: 2 }),
    ]);
    const found = readings.problems.map(({ rule, row, action }) => [rule, row, action]);
    expect(found).toEqual([
      ["decision-unable-read", 2, "kept"],
      ["decision-pass-unread", 4, "kept"],
      ["decision-changed", 10, "kept"],
    ]);
    expect(readings.problems[1].message).toMatch(/write unable, or leave it/);
  });

  it("goes to the child by its last line; why a child was examined follows from it", async () => {
    const readings = await readReadings([
      ...both({ subject: "a", programmeDecision: "pass", invited: "yes" }),
      ...both({ subject: "b", programmeDecision: "refer", invited: "yes" }),
      ...both({ subject: "c", programmeDecision: "pass", invited: "no" }),
      ...both({ subject: "d", programmeDecision: "unable", invited: "yes" }),
      ...both({ subject: "e", programmeDecision: "pass", invited: "" }),
      ...both({ subject: "f", programmeDecision: "", invited: "yes" }),
    ]);
    const findings = await readFindings(
      ["a", "b", "c", "d", "e", "f"].flatMap((subject) =>
        both({ subject, selfPresented: subject === "a" ? "no" : "" }),
      ),
    );
    const { children } = linkCohort({ readings, findings });
    const why = children.verificationReason;
    expect(Array.from(why.codes, (code) => why.labels[code])).toEqual([
      "sampled",
      "referred",
      "self-presented",
      "referred",
      "unknown",
      "unknown",
    ]);
    const own = children.selfPresented!;
    expect(Array.from(own.codes, (code) => own.labels[code])).toEqual([
      "no",
      ...Array(5).fill("unknown"),
    ]);
    // a stated reason is not written over
    const stated = await readFindings(both({ subject: "b", verificationReason: "self-presented" }));
    const kept = linkCohort({ readings, findings: stated }).children.verificationReason;
    expect(kept.labels[kept.codes[1]]).toBe("self-presented");
  });

  it("an exam before screening is named with its line and the cure", async () => {
    const readings = await readReadings(both({ subject: "a", day: 40 }));
    const findings = await readFindings([
      { ...eye, subject: "a", day: 39 },
      { ...eye, eye: "OS", subject: "a", day: 41 },
    ]);
    expect(examsBeforeScreening(linkCohort({ readings, findings }))).toMatchObject([
      {
        rule: "exam-before-screening",
        row: 1,
        value: "day 39, screened on day 40",
        message: expect.stringContaining(
          "correct a day, or set daysBetween in the protocol's linkage, which leaves such exams out",
        ),
      },
    ]);
    // the cure works: with a window of days the exam is left out, and nothing is left to name
    const cured = linkCohort({ readings, findings, daysBetween: [0, 365] });
    expect(cured.children.findingRow.right[0]).toBe(-1);
    expect(cured.children.findingRow.left[0]).toBe(1);
  });

  it("the simulator records it, now and then against its own rule", async () => {
    const parameters = {
      programme: { departures: 0.1, passesSampled: 0.2, passesSelfPresented: 0.1 },
    };
    const cohort = await simulateCohort({ children: 3000, seed: 4, parameters });
    const { children } = linkCohort(cohort);
    const recorded = children.programmeDecision!;
    const { decision, referred, examined } = cohort.truth;
    let [departed, decided] = [0, 0];
    for (let child = 0; child < 3000; child++) {
      const word = recorded.labels[recorded.codes[child]];
      if (decision.codes[child] === 2) expect(word).toBe("unable");
      else {
        decided++;
        if (word !== ["refer", "pass"][decision.codes[child]]) departed++;
      }
      expect(referred[child] === 1).toBe(word !== "pass");
      const came = children.came!;
      expect(came.labels[came.codes[child]]).toBe(examined[child] === 1 ? "yes" : "no");
    }
    // 10 % within four standard errors
    expect(Math.abs(departed / decided - 0.1)).toBeLessThan(4 * Math.sqrt((0.1 * 0.9) / decided));
    // no departures: the numbers that it gave before it recorded decisions
    const plain = await simulateCohort({ children: 200, seed: 4 });
    expect(plain.truth.referred).toEqual(
      plain.truth.decision.codes.map((code) => (code === 1 ? 0 : 1)),
    );
  });
});
