// A programme may begin with a handful of children, all alike or all unreadable: a study of them ends
// with a report that says what cannot be said, or with words of the package's own. Nothing else.
import { mkdtemp, rm, writeFile } from "node:fs/promises";
import { tmpdir } from "node:os";
import { join } from "node:path";
import fc from "fast-check";
import { afterAll, beforeAll, expect, it } from "vitest";
import { defineProtocol } from "../../src/protocol/index.js";
import { InputError } from "../../src/results/index.js";
import { runStudy, studyReport } from "../../src/study/index.js";
import { inFull } from "../builders/inFull.js";

const columns = {
  kind: "columns",
  version: 1,
  columns: { subject: "subject", eye: "eye", day: "day", site: "site", age: "age" },
  age: "years",
  readings: [
    {
      instrument: "own",
      cycloplegia: "none",
      correction: "none",
      cylinder: "minus",
      whenEmpty: "unreadable",
      columns: { sphere: "sphere", cylinder: "cylinder", axis: "axis" },
    },
  ],
  findings: [
    {
      cycloplegia: "full",
      cylinder: "minus",
      columns: { sphere: "sphere", cylinder: "cylinder", axis: "axis" },
    },
  ],
};
const header = "subject,eye,day,site,age,sphere,cylinder,axis";

let folder: string;
beforeAll(async () => {
  folder = await mkdtemp(join(tmpdir(), "meridional-small-"));
});
afterAll(() => rm(folder, { recursive: true }));

// quarter dioptres; null is an eye without a reading, or a child who did not come
const quarters = fc.integer({ min: -12, max: 20 }).map((steps) => steps / 4);
const child = fc.record({
  eyes: fc.constantFrom("both", "both", "right", "left"),
  reading: fc.option(quarters, { freq: 5 }),
  exam: fc.option(quarters, { freq: 4 }),
  cylinder: fc.constantFrom(0, -0.25, -2),
  site: fc.constantFrom("a", "b", "c", "d", "e"),
});
const cohorts = fc.oneof(
  fc.array(child, { minLength: 1, maxLength: 12 }),
  fc.array(child, { minLength: 20, maxLength: 60 }),
  // all alike
  fc
    .tuple(child, fc.integer({ min: 1, max: 12 }))
    .map(([one, times]) => Array.from({ length: times }, () => one)),
);
const limit = (value: number) => ({ quantity: "M", relation: ">=", limit: value });
const shapes = fc.record({
  audience: fc.constantFrom("journal", "public"),
  eye: fc.constantFrom("right", "both", "random", "worse"),
  verification: fc.constantFrom("complete", "partial"),
  undecidable: fc.constantFrom("refer", "pass", "exclude"),
  clusters: fc.constantFrom("child", "site"),
  subgroups: fc.constantFrom([], [{ by: "site" }], [{ by: "age", edgesYears: [6] }]),
  criteria: fc.constantFrom(undefined, { sensitivityAtLeast: 0.8, withinAcceptableAtLeast: 0.5 }),
  choose: fc.boolean(),
  errorSd: fc.constantFrom(undefined, 0.25),
  linkage: fc.constantFrom({}, { daysBetween: [0, 365], exam: "nearest" }),
});

it("a study of one to twelve children ends with a report or a reason", {
  timeout: 600_000,
}, async () => {
  let reports = 0;
  await fc.assert(
    fc.asyncProperty(cohorts, shapes, async (children, shape) => {
      const { choose, errorSd, eye, ...choices } = shape;
      const rows = (what: "reading" | "exam") =>
        children.flatMap((one, index) =>
          one.exam === null && what === "exam"
            ? []
            : (one.eyes === "both" ? ["right", "left"] : [one.eyes]).map((side) =>
                [
                  `c${index}`,
                  side,
                  what === "exam" ? 9 : 0,
                  one.site,
                  4 + (index % 4),
                  ...(one[what] === null ? ["", "", ""] : [one[what], one.cylinder, 90]),
                ].join(","),
              ),
        );
      await writeFile(join(folder, "readings.csv"), [header, ...rows("reading")].join("\n"));
      await writeFile(join(folder, "findings.csv"), [header, ...rows("exam")].join("\n"));
      const protocol = defineProtocol({
        kind: "protocol",
        version: 1,
        title: "Invented",
        question: "What is shown?",
        sources: {
          readings: { file: "readings.csv", columns },
          findings: { file: "findings.csv", columns },
        },
        indexTest: { instrument: "own", description: "an invented instrument" },
        referenceStandard: {
          description: "an invented exam",
          ...(errorSd ? { errorSd } : {}),
        },
        unit: eye === "worse" ? "child" : "eye",
        eye,
        conditions: [
          {
            id: "plus",
            title: "Plus",
            definition: "own",
            role: "confirmatory",
            target: limit(2),
            referWhen: limit(1.5),
            ...(choose ? { choose: { criterion: "youden" } } : {}),
          },
        ],
        sampling: "cohort",
        acceptableDifference: 0.5,
        seed: 1,
        replicates: 20,
        ...choices,
      });
      try {
        const result = await runStudy(protocol, { folder });
        const report = studyReport(result);
        expect(JSON.stringify(report)).not.toMatch(/NaN|Infinity/);
        reports++;
      } catch (error) {
        if (!(error instanceof InputError)) throw error;
        // in the words of the study, with what to do or what was left out
        expect(error.message).toMatch(
          /^(runStudy|readReadings|readFindings) requires .*(;|left out)/,
        );
      }
    }),
    { numRuns: inFull(15, 400), seed: 7 },
  );
  expect(reports).toBeGreaterThan(3);
});

it.each(["journal", "public"] as const)(
  "a study of files with M alone, for the %s",
  async (audience) => {
    const side = (cycloplegia: string, more: object) => ({
      kind: "columns",
      version: 1,
      columns: { subject: "child", eye: "eye" },
      ...(cycloplegia === "none"
        ? { readings: [{ instrument: "own", cycloplegia, correction: "none", ...more }] }
        : { findings: [{ cycloplegia, ...more }] }),
    });
    const columns = { columns: { statedEquivalent: "M" } };
    const rows = (turn: number) =>
      Array.from({ length: 80 }, (_, one) =>
        ["R", "L"].map(
          (eye) => `c${one},${eye},${((one * 7) % 23) / 4 - 1 + turn * ((one % 5) / 4)}`,
        ),
      );
    const file = (turn: number) => ["child,eye,M", ...rows(turn).flat()].join("\n");
    await writeFile(join(folder, "m-readings.csv"), file(0));
    await writeFile(join(folder, "m-findings.csv"), file(1));
    const study = (equivalent?: "stated") =>
      defineProtocol({
        kind: "protocol",
        version: 1,
        title: "Invented",
        question: "What is shown?",
        audience,
        sources: {
          readings: { file: "m-readings.csv", columns: side("none", columns) },
          findings: { file: "m-findings.csv", columns: side("full", columns) },
        },
        indexTest: { instrument: "own", description: "an invented instrument", equivalent },
        referenceStandard: { description: "an invented exam", equivalent },
        unit: "eye",
        eye: "right",
        verification: "complete",
        sampling: "cohort",
        undecidable: "refer",
        conditions: [
          {
            id: "plus",
            title: "Plus",
            definition: "own",
            role: "confirmatory",
            target: limit(3),
            referWhen: limit(2.5),
          },
        ],
        acceptableDifference: 0.5,
        seed: 1,
        replicates: 20,
      });
    await expect(runStudy(study(), { folder })).rejects.toThrow(
      'say "equivalent": "stated" under referenceStandard',
    );
    const result = await runStudy(study("stated"), { folder });
    expect(result.agreement.map(({ quantity }) => quantity)).toEqual(["M"]);
    expect(result.agreement[0].limits.n).toBe(80);
    // by hand: M at the exam is (child mod 5) quarters above the reading, 0 to 1, mean 0.5
    expect(result.agreement[0].limits.bias.value).toBeCloseTo(-0.5, 12);
    const words = JSON.stringify(studyReport(result));
    expect(words).toContain("J0 and J45 are not compared");
    expect(words).toContain("The spherical equivalent M alone is compared");
  },
);
