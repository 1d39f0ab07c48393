// A second sample beside the same children alone, in files of their own, and for the public.
import { beforeAll, describe, expect, it } from "vitest";
import { type StudyResult, studyReport, summaryLines } from "../../src/study/index.js";
import { byFiles, byYear, linesOf, run, sampled, source, write } from "./twoSamples.js";

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

  it("is the same by files as by a column", async () => {
    const byFile = await run("first", byFiles);
    expect(byFile.conditions[0]!.table).toEqual(study.conditions[0]!.table);
    expect(byFile.validation!.chosen[0]!.table).toEqual(study.validation!.chosen[0]!.table);
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
});
