// Lines that end up in messages hold no more of a public study than its report.
import { readFileSync } from "node:fs";
import { beforeAll, describe, expect, it } from "vitest";
import { defineProtocol } from "../../src/protocol/index.js";
import { runStudy, studyReport, summaryLines } from "../../src/study/index.js";

type Study = Awaited<ReturnType<typeof runStudy>>;
let study: Study;
beforeAll(async () => {
  const json = JSON.parse(readFileSync("data/children/protocol.json", "utf8"));
  study = await runStudy(defineProtocol({ ...json, replicates: 0 }), { folder: "data/children" });
});

it("a result of another version is refused, with what to do", () => {
  // as result.json of an earlier version says
  const earlier = { ...study, version: 1 } as unknown as Study;
  expect(() => studyReport(earlier)).toThrow(
    "studyReport requires a result of version 5, got version 1: run the study again from its protocol",
  );
});

describe("summaryLines", () => {
  const forPublic = (): string[] =>
    summaryLines({ ...study, protocol: { ...study.protocol, audience: "public" } });
  it("has the counts of those left out for a journal only", () => {
    // the file holds one eye with an incomplete finding
    expect(summaryLines(study)[1]).toContain("unreadable 57, finding incomplete 1.");
    // 574 children, of 538 of whom the right eye was compared
    expect(forPublic()[1]).toMatch(/^Children \d+ to \d+, compared \d+ to \d+\.$/);
  });
  it("has a line for every condition, however many", () => {
    const [first] = study.conditions;
    const conditions = Array.from({ length: 12 }, (_, at) => ({ ...first, title: `Number ${at}` }));
    const lines = summaryLines({ ...study, conditions });
    expect(lines).toHaveLength(4 + 12 + 1);
    expect(lines.at(-1)).toContain("criteria stated in advance");
    expect(lines.at(-2)).toContain("Number 11");
  });
  it("has ranges for the public", () => {
    const line = forPublic().find((one) => one.startsWith("Myopia of 3.00 D"))!;
    expect(line).toMatch(/sensitivity \d+ to \d+ % \(\d+ to \d+\), specificity \d+ to \d+ %/);
    expect(line).not.toContain("95.3 %");
    expect(summaryLines(study)[4]).toContain("sensitivity 95.3 %");
  });
});
