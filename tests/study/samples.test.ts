// A second sample: what is chosen on the first is reported on the second, with truth from the simulator.
import { mkdtemp, rm, writeFile } from "node:fs/promises";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { afterAll, beforeAll, describe, expect, it } from "vitest";
import type { Findings, Readings } from "../../src/cohort/index.js";
import { defineProtocol } from "../../src/protocol/index.js";
import { simulateCohort } from "../../src/simulation/index.js";
import { runStudy, type StudyResult, studyReport, summaryLines } from "../../src/study/index.js";

const columns = {
  kind: "columns",
  version: 1,
  columns: { subject: "subject", eye: "eye" },
  readings: [
    {
      own: { year: "year" },
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
const header = "subject,eye,year,sphere,cylinder,axis";

/** The rows of right and left eyes as a file has them. */
function linesOf(data: Readings | Findings, prefix: string, year: string): string[] {
  return Array.from({ length: data.n }, (_, row) => {
    const [sphere, cylinder, axis] = [data.sphere[row]!, data.cylinder[row]!, data.axis[row]!];
    const numbers = Number.isNaN(sphere)
      ? ",,"
      : `${sphere},${cylinder},${Number.isNaN(axis) ? "" : axis}`;
    const child = data.subject.labels[data.subject.codes[row]!];
    const eye = data.eye.codes[row] === 0 ? "right" : "left";
    return `${prefix}${child},${eye},${year},${numbers}`;
  });
}

let folder: string;
let sampled: Awaited<ReturnType<typeof simulateCohort>>[];
const write = (name: string, lines: readonly string[]) =>
  writeFile(join(folder, name), [header, ...lines].join("\n"));
beforeAll(async () => {
  folder = await mkdtemp(join(tmpdir(), "meridional-samples-"));
  const simulate = (seed: number, children: number) =>
    simulateCohort({ children, seed, scenario: "complete" });
  sampled = [await simulate(1, 1200), await simulate(2, 1500)];
  for (const kind of ["readings", "findings"] as const) {
    const [first, second] = sampled.map((one, at) =>
      linesOf(one[kind], at === 0 ? "a-" : "b-", at === 0 ? "2024" : "2025"),
    );
    await write(`${kind}-first.csv`, first!);
    await write(`${kind}-second.csv`, second!);
    await write(`${kind}-both.csv`, [...first!, ...second!]);
  }
});
afterAll(() => rm(folder, { recursive: true }));

const source = (kind: string, which: string) => ({ file: `${kind}-${which}.csv`, columns });
const protocolOf = (which: string, samples: object | undefined, more: object = {}) =>
  defineProtocol({
    kind: "protocol",
    version: 1,
    title: "Invented",
    question: "Does a chosen limit hold in other children?",
    audience: "journal",
    sources: { readings: source("readings", which), findings: source("findings", which) },
    ...(samples === undefined ? {} : { samples }),
    indexTest: { instrument: "own", description: "an invented instrument" },
    referenceStandard: { description: "an invented exam" },
    unit: "eye",
    eye: "right",
    conditions: [
      {
        id: "plus",
        title: "Plus",
        definition: "own",
        role: "confirmatory",
        target: { quantity: "M", relation: ">=", limit: 2 },
        referWhen: { quantity: "M", relation: ">=", limit: 1.5 },
        choose: { criterion: "youden" },
      },
    ],
    criteria: { sensitivityAtLeast: 0.5 },
    undecidable: "refer",
    verification: "complete",
    sampling: "cohort",
    acceptableDifference: 0.5,
    seed: 1,
    replicates: 20,
    ...more,
  });
const byYear = { by: "year", development: ["2024"], validation: ["2025"] };
const byFiles = {
  validation: { readings: source("readings", "second"), findings: source("findings", "second") },
};
const run = (which: string, samples: object | undefined, more?: object) =>
  runStudy(protocolOf(which, samples, more), { folder });

/** Counts of right eyes at a limit, row by row; an eye without a number counts as referred. */
function countsAt({ readings, findings }: (typeof sampled)[number], limit: number) {
  const exam = new Map<number, number>();
  for (let row = 0; row < findings.n; row++) {
    if (findings.eye.codes[row] === 0) {
      exam.set(findings.subject.codes[row]!, findings.sphere[row]! + findings.cylinder[row]! / 2);
    }
  }
  const counts = { truePositive: 0, falsePositive: 0, falseNegative: 0, trueNegative: 0 };
  const seen = new Set<number>();
  for (let row = 0; row < readings.n; row++) {
    const child = readings.subject.codes[row]!;
    const found = exam.get(child);
    if (
      readings.eye.codes[row] !== 0 ||
      seen.has(child) ||
      found === undefined ||
      Number.isNaN(found)
    )
      continue;
    seen.add(child);
    const M = readings.sphere[row]! + readings.cylinder[row]! / 2;
    const refers = Number.isNaN(M) || M >= limit;
    if (found >= 2) counts[refers ? "truePositive" : "falseNegative"]++;
    else counts[refers ? "falsePositive" : "trueNegative"]++;
  }
  return counts;
}

describe("a second sample", () => {
  let study: StudyResult;
  beforeAll(async () => {
    study = await run("both", byYear);
  });

  it("leaves the first as it is alone, and chooses nothing on the second", async () => {
    const alone = await run("first", undefined);
    expect(study.conditions[0]!.table).toEqual(alone.conditions[0]!.table);
    expect(study.conditions[0]!.chosen).toEqual(alone.conditions[0]!.chosen);
    expect(study.agreement[0]!.limits).toEqual(alone.agreement[0]!.limits);
    const other = await run("second", undefined);
    expect(study.validation!.conditions[0]!.table).toEqual(other.conditions[0]!.table);
    expect(study.validation!.conditions[0]!.chosen).toBeNull();
    expect(study.validation!.agreement[0]!.limits).toEqual(other.agreement[0]!.limits);
  });

  it("has the counts of its own children at the limit that the first chose", () => {
    const { cutOff } = study.conditions[0]!.chosen!;
    expect(study.validation!.conditions[0]!.table).toEqual(countsAt(sampled[1]!, 1.5));
    expect(study.validation!.chosen[0]!.table).toEqual(countsAt(sampled[1]!, cutOff!));
    // not those of both samples together
    const pooled = countsAt(sampled[0]!, cutOff!).truePositive;
    expect(pooled).toBeGreaterThan(0);
  });

  it("holds what is true of the scenario at the chosen limit", async () => {
    const { cutOff } = study.conditions[0]!.chosen!;
    const many = countsAt(
      await simulateCohort({ children: 20_000, seed: 3, scenario: "complete" }),
      cutOff!,
    );
    const { sensitivity, specificity } = study.validation!.chosen[0]!.accuracy;
    const truth = {
      sensitivity: many.truePositive / (many.truePositive + many.falseNegative),
      specificity: many.trueNegative / (many.trueNegative + many.falsePositive),
    };
    for (const [found, value] of [
      [sensitivity, truth.sensitivity],
      [specificity, truth.specificity],
    ] as const) {
      if (found.kind !== "estimate") throw new Error("no estimate");
      // three standard errors, from a 95 % interval
      expect(Math.abs(found.value - value)).toBeLessThan((3 * (found.high - found.low)) / 3.92);
    }
  });

  it("is the same by files as by a column", async () => {
    const byFile = await run("first", byFiles);
    expect(byFile.conditions[0]!.table).toEqual(study.conditions[0]!.table);
    expect(byFile.validation!.chosen[0]!.table).toEqual(study.validation!.chosen[0]!.table);
  });

  it("is told apart in the report: own flow and counts, methods and checklist say so", () => {
    const report = studyReport(study);
    const own = report.sections.find(({ id }) => id === "validation")!;
    const tables = own.blocks.flatMap((block) => (block.kind === "table" ? [block] : []));
    const titles = tables.map(({ title }) => title);
    expect(titles).toEqual([
      "Criteria stated in advance, validation sample",
      "Participants, validation sample",
      "Agreement, test minus reference, validation sample",
      "Differences within ±0.50 D, stated in advance, validation sample",
      "Counts: Plus, validation sample",
      "Accuracy: Plus, validation sample",
      "Counts: Plus, validation sample, limit chosen on the development sample",
      "Accuracy: Plus, validation sample, limit chosen on the development sample",
    ]);
    const flow = tables[1]!.rows.map(({ cells }) => cells);
    expect(flow[0]![1]).toBe(2700);
    expect(flow.at(-1)![1]).toBe(study.validation!.conditions[0]!.children);
    const text = JSON.stringify(report.sections.find(({ id }) => id === "methods"));
    expect(text).toContain("Two samples of different children, by year: development 2024");
    const all = report.sections.flatMap(({ blocks }) =>
      blocks.flatMap((block) => (block.kind === "table" ? [block.title] : [])),
    );
    expect(new Set(all).size).toBe(all.length);
    const list = report.sections.at(-1)!.blocks[0]!;
    if (list.kind !== "table") throw new Error("no checklist");
    expect(list.rows.find(({ cells }) => cells[0] === "12a")!.cells[2]).toContain(own.title);
    expect(summaryLines(study).join("\n")).toContain(
      "validation sample, limit chosen on the development",
    );
  });

  it("is refused where the two share children, each with its cure", async () => {
    await expect(
      run("first", {
        validation: { readings: source("readings", "both"), findings: source("findings", "both") },
      }),
    ).rejects.toThrow(/got 1200 children in the files of both; take them out of one/);
    const lines = linesOf(sampled[0]!.readings, "a-", "2024");
    const again = linesOf(sampled[0]!.readings, "a-", "2025").slice(0, 2);
    await write("readings-again.csv", [...lines, ...again]);
    await write("findings-again.csv", linesOf(sampled[0]!.findings, "a-", "2024"));
    await write("readings-extra.csv", [
      ...lines,
      ...again,
      ...linesOf(sampled[1]!.readings, "b-", "2025"),
    ]);
    await write("findings-extra.csv", [
      ...linesOf(sampled[0]!.findings, "a-", "2024"),
      ...linesOf(sampled[1]!.findings, "b-", "2025"),
    ]);
    await expect(run("extra", byYear)).rejects.toThrow(
      /got 1 child with rows of both in the column "year"; give each child one value/,
    );
  });

  it("stands in a public report of its own coarse counts, without participants where the files are the same", async () => {
    for (const [which, samples] of [
      ["both", byYear],
      ["first", byFiles],
    ] as const) {
      const open = await run(which, samples, { audience: "public" });
      const report = studyReport(open);
      const tablesOf = (id: string) =>
        report.sections
          .find((section) => section.id === id)!
          .blocks.flatMap((block) => (block.kind === "table" ? [block] : []));
      const alone = studyReport(
        await run("second", undefined, { audience: "public" }),
      ).sections.flatMap(({ blocks }) =>
        blocks.flatMap((block) => (block.kind === "table" ? [block] : [])),
      );
      const own = tablesOf("validation");
      const counts = own.find(({ title }) => title === "Counts: Plus, validation sample")!;
      // as a report of the second sample alone has them
      expect(counts.rows).toEqual(alone.find(({ title }) => title === "Counts: Plus")!.rows);
      const flows = [...tablesOf("participants"), ...own].filter(({ title }) =>
        title.startsWith("Participants"),
      );
      expect(flows).toHaveLength(samples === byYear ? 0 : 2);
      // no file's name, and no limit that was chosen
      const text = JSON.stringify(report.sections);
      expect(text).not.toMatch(/-second|-both|limit chosen on the development/);
      expect(summaryLines(open).join("\n")).toContain("Plus, validation sample, referral");
    }
  });

  it("is refused with a value in both, and beside eligibility by its column", () => {
    expect(() => protocolOf("both", { ...byYear, validation: ["2024"] })).toThrow(
      /samples.validation: "2024" is in both samples/,
    );
    expect(() =>
      protocolOf("both", byYear, { eligibility: { own: { year: ["2024", "2025"] } } }),
    ).toThrow(/samples.by: the column "year" is in eligibility.own already/);
  });
});
