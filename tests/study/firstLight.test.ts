import { copyFile, mkdtemp, readFile, rm, writeFile } from "node:fs/promises";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { afterAll, beforeAll, describe, expect, it } from "vitest";
import { accuracyFromCounts } from "../../src/accuracy/index.js";
import { limitsOfAgreement } from "../../src/agreement/index.js";
import {
  type Cohort,
  childValues,
  eyePairs,
  linkCohort,
  readFindings,
  readReadings,
} from "../../src/cohort/index.js";
import { defineProtocol } from "../../src/protocol/index.js";
import { runStudy, studyReport, summaryLines } from "../../src/study/index.js";
import { reportHtml } from "../../src/study/publish/writeHtml.js";
import { reportMarkdown } from "../../src/study/publish/writeMarkdown.js";
import { areaUnderCurve } from "../../src/thresholds/index.js";

const data = "data/children";
const json = JSON.parse(await readFile(join(data, "protocol.json"), "utf8"));
const cohort: Record<string, Cohort> = {};
let folder: string;

beforeAll(async () => {
  const columns = JSON.parse(await readFile(join(data, "columns.json"), "utf8"));
  const readings = await readReadings(join(data, "children.csv"), { columns });
  const findings = await readFindings(join(data, "children.csv"), { columns });
  for (const instrument of ["handheld", "table"]) {
    cohort[instrument] = linkCohort({ readings, findings, instrument, cycloplegia: "none" });
  }
  folder = await mkdtemp(join(tmpdir(), "meridional-"));
  await copyFile(join(data, "columns.json"), join(folder, "columns.json"));
});
afterAll(() => rm(folder, { recursive: true }));

describe("published panels of the children data, all eyes, as printed", () => {
  // The source's four panels print cycloplegic minus device with the equivalent as stated, 1.96 SD:
  // table instrument before +0.38, -0.51 to +1.26 (n 1118); handheld before +0.26, -2.29 to +2.80
  // (n 1072). Ours is test minus reference, the mirror of it.
  it.each([
    ["table", 1118, 0.38, -0.51, 1.26, [-0.3757, -1.2595, 0.5082]],
    ["handheld", 1072, 0.26, -2.29, 2.8, [-0.2563, -2.801, 2.2884]],
  ] as const)("%s instrument before cycloplegia", (instrument, n, bias, low, high, ours) => {
    const { test, reference } = eyePairs(cohort[instrument], {
      eyes: "both",
      referenceEquivalent: "stated",
    });
    // as printed: eyes as if independent, which is why no subjects are given
    const limits = limitsOfAgreement({ test, reference }, { multiplier: 1.96 });
    expect(limits.n).toBe(n);
    expect(-limits.bias.value!).toBeCloseTo(bias, 2);
    expect(-limits.upper.value!).toBeCloseTo(low, 2);
    expect(-limits.lower.value!).toBeCloseTo(high, 2);
    expect(limits.bias.value).toBeCloseTo(ours[0], 4);
    expect(limits.lower.value).toBeCloseTo(ours[1], 4);
    expect(limits.upper.value).toBeCloseTo(ours[2], 4);
  });

  it.each([
    // M from sphere and cylinder, 1.96 SD like the panels; computed with R 4.2 on the same file
    ["table", 1117, -0.3738, -1.2216, 0.4741],
    ["handheld", 1071, -0.2535, -2.7908, 2.2838],
  ] as const)("%s instrument, M computed", (instrument, n, bias, lower, upper) => {
    const { test, reference } = eyePairs(cohort[instrument], { eyes: "both" });
    const limits = limitsOfAgreement({ test, reference }, { multiplier: 1.96 });
    expect(limits.n).toBe(n);
    expect(limits.bias.value).toBeCloseTo(bias, 4);
    expect(limits.lower.value).toBeCloseTo(lower, 4);
    expect(limits.upper.value).toBeCloseTo(upper, 4);
  });
});

describe("right eyes, independent rows", () => {
  // computed with R 4.2 (bias, SD, limits) and scipy.stats.nct (exact intervals) on the same file
  it.each([
    ["handheld", 538, -0.2066, 1.4699, -3.0874, 2.6743, [-3.3113, -2.8853], [2.4722, 2.8982]],
    ["table", 561, -0.358, 0.3925, -1.1273, 0.4112, [-1.1858, -1.0744], [0.3583, 0.4697]],
  ] as const)("%s", (instrument, n, bias, sd, lower, upper, lowerInterval, upperInterval) => {
    const limits = limitsOfAgreement(eyePairs(cohort[instrument], { eyes: "right" }));
    expect(limits.interval).toBe("exact");
    expect(limits.n).toBe(n);
    expect(limits.bias.value).toBeCloseTo(bias, 4);
    expect(limits.sd.value).toBeCloseTo(sd, 4);
    expect(limits.lower.value).toBeCloseTo(lower, 4);
    expect(limits.upper.value).toBeCloseTo(upper, 4);
    expect([limits.lower.low, limits.lower.high].map((limit) => Number(limit!.toFixed(4)))).toEqual(
      lowerInterval,
    );
    expect([limits.upper.low, limits.upper.high].map((limit) => Number(limit!.toFixed(4)))).toEqual(
      upperInterval,
    );
  });
});

describe("referral at M <= -3.00 D against M <= -3.00 D", () => {
  const counts = (rows: { test: Float64Array; reference: Float64Array }) => {
    const table = { truePositive: 0, falsePositive: 0, falseNegative: 0, trueNegative: 0 };
    rows.test.forEach((value, row) => {
      const sick = rows.reference[row] <= -3;
      if (value <= -3) table[sick ? "truePositive" : "falsePositive"]++;
      else table[sick ? "falseNegative" : "trueNegative"]++;
    });
    return table;
  };

  it.each([
    // all eyes: counts, Wilson intervals, area, DeLong and clustered standard error, by R 4.2
    [
      "handheld",
      [389, 92, 15, 575],
      [0.9629, 0.9397, 0.9774],
      [0.8621, 0.8338, 0.8862],
      0.9753,
      0.0044,
      0.0049,
    ],
    [
      "table",
      [420, 72, 4, 621],
      [0.9906, 0.976, 0.9963],
      [0.8961, 0.8712, 0.9167],
      0.9931,
      0.0018,
      0.0018,
    ],
  ] as const)(
    "%s, all eyes",
    (instrument, cells, sensitivity, specificity, area, se, seClustered) => {
      const pairs = eyePairs(cohort[instrument], { eyes: "both" });
      const table = counts(pairs);
      expect(Object.values(table)).toEqual(cells);
      const accuracy = accuracyFromCounts(table);
      const four = (estimate: typeof accuracy.sensitivity) =>
        [estimate.value, estimate.low, estimate.high].map((part) => Number(part!.toFixed(4)));
      expect(four(accuracy.sensitivity)).toEqual(sensitivity);
      expect(four(accuracy.specificity)).toEqual(specificity);
      const condition = Array.from(pairs.reference, (value) => value <= -3);
      const values = { values: pairs.test, condition };
      const plain = areaUnderCurve(values, { positiveWhen: "low" });
      const clustered = areaUnderCurve(
        { ...values, subjects: pairs.subjects },
        { positiveWhen: "low" },
      );
      expect(plain.value).toBeCloseTo(area, 4);
      expect(plain.se).toBeCloseTo(se, 4);
      expect(clustered.value).toBeCloseTo(area, 4);
      expect(clustered.se).toBeCloseTo(seClustered, 4);
    },
  );

  it("right eyes and worse eye of a child", () => {
    const right = (instrument: string) =>
      Object.values(counts(eyePairs(cohort[instrument], { eyes: "right" })));
    const worse = (instrument: string) =>
      Object.values(counts(childValues(cohort[instrument], { eye: "worse", worseWhen: "low" })));
    expect(right("handheld")).toEqual([204, 41, 10, 283]);
    expect(right("table")).toEqual([224, 36, 1, 300]);
    expect(worse("handheld")).toEqual([230, 52, 5, 240]);
    expect(worse("table")).toEqual([246, 37, 1, 265]);
  });
});

describe("the children protocol from file to report", () => {
  it("finds the numbers above and says them in the summary", async () => {
    const result = await runStudy(defineProtocol(json), { folder: data });
    const [main, half] = result.conditions;
    expect(Object.values(main.table)).toEqual([204, 41, 10, 283]);
    // the biased illustration: 36 right eyes are without the condition
    expect(half.table.falsePositive + half.table.trueNegative).toBe(36);
    const lines = summaryLines(result);
    expect(lines.length).toBeLessThanOrEqual(10);
    expect(lines.join("\n")).toContain(
      "Children 574, eyes 1129; eyes left out: unreadable 57, finding incomplete 1.",
    );
    expect(lines.join("\n")).toContain("bias -0.21 D (-0.33 to -0.08)");
    expect(result.limitations.join(" ")).toContain("removed 87 eyes");
  });

  it("is the same twice, survives JSON, and holds no NaN and no id", async () => {
    const first = await runStudy(defineProtocol(json), { folder: data });
    const second = await runStudy(defineProtocol(json), { folder: data });
    const text = JSON.stringify(first);
    expect(JSON.stringify(second)).toBe(text);
    expect(JSON.parse(text)).toEqual(first);
    expect(text).not.toMatch(/NaN|"C\d{3}"/);
    const report = studyReport(JSON.parse(text));
    for (const page of [await reportHtml(report, new Map()), reportMarkdown(report)]) {
      expect(page).not.toMatch(/\bC\d{3}\b/);
      expect(page).toContain(
        "Demonstration on a clinic sample; says nothing about any instrument or programme.",
      );
      expect(page).toContain("not a medical device");
    }
    // level limits are drawn for J45 too, which says that they do not hold everywhere
    expect(reportMarkdown(report)).toMatch(
      /level limits do not follow: .*J45 1\.50 \(1\.\d\d to 1\.\d\d\)/,
    );
    expect(reportMarkdown(report).split("\n")[0]).toBe(
      "**Demonstration on a clinic sample; says nothing about any instrument or programme.**",
    );
  });

  it("follows the rows: one changed reading changes the result, one lost child the flow", async () => {
    const before = await runStudy(defineProtocol(json), { folder: data });
    const lines = (await readFile(join(data, "children.csv"), "utf8")).split("\n");
    const changed = lines.map((line, at) => {
      const cells = line.split(",");
      if (at === 1) cells[7] = "-12.5"; // the first right eye's reading, far beyond the referral limit
      return cells.join(",");
    });
    await writeFile(join(folder, "children.csv"), changed.join("\n"));
    const after = await runStudy(defineProtocol(json), { folder });
    expect(after.agreement[0].limits.bias.value).not.toBe(before.agreement[0].limits.bias.value);
    expect(reportMarkdown(studyReport(after))).not.toBe(reportMarkdown(studyReport(before)));
    expect(after.flow).toEqual(before.flow);

    const lost = lines[1].split(",")[0];
    await writeFile(
      join(folder, "children.csv"),
      lines.filter((line) => !line.startsWith(`${lost},`)).join("\n"),
    );
    const fewer = await runStudy(defineProtocol(json), { folder });
    const all = (study: typeof fewer) => study.flow.boxes.find(({ id }) => id === "all")!;
    expect(all(fewer).children).toBe(all(before).children - 1);
    expect(all(fewer).eyes).toBe(
      all(before).eyes - lines.filter((line) => line.startsWith(`${lost},`)).length,
    );
  });
});
