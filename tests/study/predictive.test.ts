// How often a referral is right where the condition is as common as the protocol says.
import { mkdtemp, readFile, rm } from "node:fs/promises";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { beforeAll, describe, expect, it } from "vitest";
import { predictiveValuesAt } from "../../src/accuracy/index.js";
import { defineProtocol } from "../../src/protocol/index.js";
import type { TableModel } from "../../src/results/index.js";
import { runStudy, type StudyResult, studyReport } from "../../src/study/index.js";
import { reportMarkdown } from "../../src/study/publish/writeMarkdown.js";
import { demoPart } from "../builders/demoPart.js";

const prevalences = [0.02, 0.1, 0.5];

async function studyOf(
  set: "children" | "demo",
  changes: object = {},
  own: object = {},
  folder = `data/${set}`,
) {
  const json = JSON.parse(await readFile(`data/${set}/protocol.json`, "utf8"));
  const conditions = json.conditions.map((condition: object) => ({
    ...condition,
    prevalences,
    ...own,
  }));
  const protocol = defineProtocol({ ...json, replicates: 60, ...changes, conditions });
  return runStudy(protocol, { folder });
}

const tableOf = (result: StudyResult) =>
  studyReport(result)
    .sections.flatMap(({ blocks }) => blocks)
    .find(
      (block): block is TableModel =>
        block.kind === "table" && block.title.startsWith("How often the referral is right, by"),
    );
const firstPage = (result: StudyResult) =>
  studyReport(result).sections[0]!.blocks.flatMap((block) =>
    block.kind === "paragraph" ? [block.text] : [],
  );
const sentenceOf = (result: StudyResult) =>
  firstPage(result).find((text) => /referred, the share|referral is right cannot/.test(text));

describe("how often a referral is right", () => {
  let children: StudyResult;
  let open: StudyResult;
  beforeAll(async () => {
    children = await studyOf("children");
    const folder = await mkdtemp(join(tmpdir(), "meridional-predictive-"));
    await demoPart(folder);
    open = await studyOf("demo", {}, {}, folder).finally(() => rm(folder, { recursive: true }));
  });

  it("is Bayes' rule on the counts of the same report", () => {
    const { table, predictive } = children.conditions[0]!;
    expect(table).toMatchObject({ truePositive: 204, falsePositive: 41 });
    expect(predictive?.table).toEqual(table);
    for (const { prevalence, positivePredictiveValue } of predictive!.points) {
      // by hand: 204 of 214 with, 41 of 324 without
      const [right, wrong] = [(prevalence * 204) / 214, ((1 - prevalence) * 41) / 324];
      expect(positivePredictiveValue).toMatchObject({ kind: "estimate" });
      if (positivePredictiveValue.kind === "estimate") {
        expect(positivePredictiveValue.value).toBeCloseTo(right / (right + wrong), 12);
      }
    }
    expect(tableOf(children)!.rows.map(({ cells }) => cells[1])).toEqual(
      predictive!.points.map(({ positivePredictiveValue }) => positivePredictiveValue),
    );
  });

  it("is on the first page, of a sample with too many cases without the sample's own", () => {
    expect(sentenceOf(children)).toMatch(
      /Of those referred, the share that has the condition: 13\.3 % \([\d. to]+\) where 2 % have the condition; 45\.6 % .* 50 % have the condition\.$/,
    );
    expect(sentenceOf(children)).not.toContain("in this sample");
  });

  it("cannot be said of such a sample where the protocol names no share", async () => {
    const result = await studyOf("children", {}, { prevalences: undefined });
    expect(result.conditions[0]).not.toHaveProperty("predictive");
    expect(sentenceOf(result)).toContain("cannot be said from this sample");
    expect(tableOf(result)).toBeUndefined();
  });

  it("goes by the corrected rates where passes were examined in part, and by those over eyes of a child", async () => {
    const partly = { ...open, protocol: { ...open.protocol, audience: "journal" as const } };
    const [condition] = partly.conditions;
    const { sensitivity, specificity } = condition!.verification!.corrected;
    expect(condition!.predictive).toEqual(
      predictiveValuesAt({ sensitivity, specificity, prevalence: prevalences }),
    );
    expect(sentenceOf(partly)).toContain("in this sample; ");
    const both = await studyOf("children", { eye: "both" });
    expect(both.conditions[0]!.predictive!.method).toBe("extremes of both intervals");
  });

  it("is for the public no finer than both coarse rates, and holds the exact value", () => {
    const cells = tableOf(open)!.rows.map(({ cells: [, positive] }) => String(positive));
    expect(cells.length).toBe(prevalences.length);
    for (const [at, words] of cells.entries()) {
      const [from, to] = [...words.matchAll(/\d+/g)].map(Number);
      const exact = open.conditions[0]!.predictive!.points[at]!.positivePredictiveValue;
      if (exact.kind === "estimate") {
        expect(100 * exact.value).toBeGreaterThanOrEqual(from! - 1e-9);
        expect(100 * exact.value).toBeLessThanOrEqual(to! + 1e-9);
      }
      expect(words).not.toMatch(/\d\.\d/);
    }
  });

  it("a share of 0 or 1 is refused, the sentence stands in the Markdown", async () => {
    await expect(studyOf("children", {}, { prevalences: [0] })).rejects.toThrow(/prevalences/);
    expect(reportMarkdown(studyReport(children))).toContain("where 2 % have the condition");
  });
});
