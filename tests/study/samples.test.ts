// A second sample: what is chosen on the first is reported on the second, with truth from the simulator.
import { beforeAll, describe, expect, it } from "vitest";
import { simulateCohort } from "../../src/simulation/index.js";
import { type StudyResult, studyReport, summaryLines } from "../../src/study/index.js";
import { byYear, countsAt, protocolOf, run, sampled } from "./twoSamples.js";

describe("a second sample", () => {
  let study: StudyResult;
  beforeAll(async () => {
    study = await run("both", byYear);
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

  it("is refused with a value in both, and beside eligibility by its column", () => {
    expect(() => protocolOf("both", { ...byYear, validation: ["2024"] })).toThrow(
      /samples.validation: "2024" is in both samples/,
    );
    expect(() =>
      protocolOf("both", byYear, { eligibility: { own: { year: ["2024", "2025"] } } }),
    ).toThrow(/samples.by: the column "year" is in eligibility.own already/);
  });
});
