import { copyFile, mkdtemp, readFile, rm, writeFile } from "node:fs/promises";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { afterAll, beforeAll, describe, expect, it } from "vitest";
import { limitsOfAgreement, withinDifference } from "../../src/agreement/index.js";
import {
  type Cohort,
  eyePairs,
  linkCohort,
  readFindings,
  readReadings,
} from "../../src/cohort/index.js";
import { drawnEye } from "../../src/cohort/link/drawnEye.js";
import { proportionInterval } from "../../src/inference/index.js";
import { defineProtocol } from "../../src/protocol/index.js";
import { runStudy, studyReport } from "../../src/study/index.js";
import { reportMarkdown } from "../../src/study/publish/writeMarkdown.js";
import { known } from "../known.js";

const children = JSON.parse(await readFile("data/children/protocol.json", "utf8"));
const protocolWith = (change: (draft: typeof children) => void) => {
  const draft = structuredClone(children);
  change(draft);
  return defineProtocol(draft);
};
const run = (change: (draft: typeof children) => void, folder = "data/children") =>
  runStudy(protocolWith(change), { folder });

let cohort: Cohort;
let folder: string;
beforeAll(async () => {
  const columns = JSON.parse(await readFile("data/children/columns.json", "utf8"));
  cohort = linkCohort({
    readings: await readReadings("data/children/children.csv", { columns }),
    findings: await readFindings("data/children/children.csv", { columns }),
    instrument: "handheld",
    cycloplegia: "none",
  });
  folder = await mkdtemp(join(tmpdir(), "meridional-choices-"));
  await copyFile("data/children/columns.json", join(folder, "columns.json"));
});
afterAll(() => rm(folder, { recursive: true }));

describe("one drawn eye a child", () => {
  it("counts the eye that the seed and the identifier draw, and no other", async () => {
    const result = await run((p) => (p.eye = "random"));
    // by hand: of two screened eyes the drawn one, read or not; readings of M <= -3.00 D refer
    const { subject, readingRow } = cohort.children;
    const drawn = drawnEye(children.seed);
    const both = eyePairs(cohort, { eyes: "both" });
    const table = { truePositive: 0, falsePositive: 0, falseNegative: 0, trueNegative: 0 };
    both.subjects.forEach((child, row) => {
      const eyes = (["right", "left"] as const).filter((side) => readingRow[side][child] >= 0);
      const eye = eyes.length === 1 ? eyes[0] : eyes[drawn(subject[child])];
      if (both.eye[row] !== eye) return;
      const sick = Math.round(both.reference[row] * 1000) <= -3000;
      const refer = Math.round(both.test[row] * 1000) <= -3000;
      table[
        refer ? (sick ? "truePositive" : "falsePositive") : sick ? "falseNegative" : "trueNegative"
      ]++;
    });
    const [main] = result.conditions;
    expect(main.table).toEqual(table);
    expect(main.n).toBe(main.children);
    // the curve is on the same eyes
    if (main.curve.kind === "undefined") throw new Error("no curve");
    expect(main.curve.n).toBe(main.n);
    // as rows of children the same
    const asChild = await run((p) => {
      p.eye = "random";
      p.unit = "child";
    });
    expect(asChild.conditions[0].table).toEqual(table);
  });

  it("agrees on one of the complete eyes, J45 after mirroring left ones", async () => {
    const result = await run((p) => (p.eye = "random"));
    const pairs = eyePairs(cohort, { eyes: "random", seed: children.seed, quantity: "J45" });
    const J45 = result.agreement.find(({ quantity }) => quantity === "J45")!;
    const sign = pairs.eye.map((eye) => (eye === "left" ? -1 : 1));
    const limits = limitsOfAgreement({
      test: pairs.test.map((value, row) => sign[row] * value),
      reference: pairs.reference.map((value, row) => sign[row] * value),
    });
    expect(J45.mirrored).toBe(true);
    expect(J45.limits.n).toBe(pairs.children);
    expect(J45.limits.bias.value).toBeCloseTo(limits.bias.value, 12);
    expect(J45.limits.sd.value).toBeCloseTo(limits.sd.value!, 12);
    expect(result.astigmatism!.summary.n).toBe(pairs.n);
    expect(new Set(pairs.eye)).toEqual(new Set(["right", "left"]));
    expect(reportMarkdown(studyReport(result))).toContain("one eye a child, drawn");
  });

  it("depends on the seed, not on the order of the rows", async () => {
    const lines = (await readFile("data/children/children.csv", "utf8")).trim().split("\n");
    const turned = [lines[0], ...lines.slice(1).reverse()].join("\n");
    await writeFile(join(folder, "children.csv"), turned);
    const result = await run((p) => (p.eye = "random"));
    const reversed = await run((p) => (p.eye = "random"), folder);
    expect(reversed.conditions[0].table).toEqual(result.conditions[0].table);
    const other = await run((p) => {
      p.eye = "random";
      p.seed = 7;
    });
    expect(other.conditions[0].table).not.toEqual(result.conditions[0].table);
  });
});

describe("which findings are a reference", () => {
  const readings = ["subject,eye,day,sphere,cylinder,axis"];
  const findings = ["subject,eye,day,drops,sphere,cylinder,axis"];
  for (let child = 0; child < 60; child++) {
    for (const eye of ["right", "left"]) {
      const sphere = ((child % 7) - 3).toFixed(2);
      readings.push(`c${child},${eye},0,${sphere},0,0`);
      // every third child without drops; every fifth comes twice, half a dioptre apart
      findings.push(
        `c${child},${eye},${10 + child},${child % 3 === 0 ? "no" : "yes"},${sphere},0,0`,
      );
      if (child % 5 === 0) {
        findings.push(`c${child},${eye},${3 + child},yes,${Number(sphere) + 0.5},0,0`);
      }
    }
  }
  const columns = {
    kind: "columns",
    version: 1,
    columns: { subject: "subject", eye: "eye", day: "day" },
    readings: [
      {
        instrument: "own",
        cycloplegia: "none",
        correction: "none",
        cylinder: "minus",
        columns: { sphere: "sphere", cylinder: "cylinder", axis: "axis" },
      },
    ],
    findings: [
      {
        cycloplegia: { codes: { yes: "full", no: "none" } },
        cylinder: "minus",
        columns: { cycloplegia: "drops", sphere: "sphere", cylinder: "cylinder", axis: "axis" },
      },
    ],
  };
  const study = async (reference: object, linkage: object) => {
    await writeFile(join(folder, "readings.csv"), readings.join("\n"));
    await writeFile(join(folder, "findings.csv"), findings.join("\n"));
    return run((p) => {
      p.sources = {
        readings: { file: "readings.csv", columns },
        findings: { file: "findings.csv", columns },
      };
      p.indexTest = { instrument: "own", description: "an own instrument" };
      Object.assign(p.referenceStandard, reference);
      p.linkage = linkage;
      p.conditions = [{ ...p.conditions[0], target: low, referWhen: low }];
    }, folder);
  };
  const low = { quantity: "M", relation: "<=", limit: -1 };

  it("takes the states of cycloplegia that the protocol names", async () => {
    const box = (result: Awaited<ReturnType<typeof run>>, id: string) =>
      result.flow.boxes.find((one) => one.id === id)!.eyes;
    const all = await study({}, {});
    expect([all.conditions[0].n, box(all, "other-cycloplegia")]).toEqual([60, 0]);
    const full = await study({ cycloplegia: ["full"] }, {});
    // 20 children without drops, of whom every fifth (0, 15, 30, 45) came again with drops
    expect([full.conditions[0].n, full.conditions[0].unexamined]).toEqual([44, 16]);
    expect(box(full, "other-cycloplegia")).toBe(32);
  });

  it("takes the exam that the protocol names", async () => {
    const biasOf = async (exam?: string) =>
      (await study({}, exam === undefined ? {} : { exam })).agreement[0].limits.bias.value;
    // every fifth child's first, and nearest, exam is half a dioptre more plus: -0.5 / 5
    expect(await biasOf()).toBeCloseTo(-0.1, 12);
    expect(await biasOf("first")).toBeCloseTo(-0.1, 12);
    expect(await biasOf("nearest")).toBeCloseTo(-0.1, 12);
    expect(await biasOf("last")).toBeCloseTo(0, 12);
  });
});

describe("agreement by subgroup", () => {
  it("is that of the rows of each group, in order, as declared", async () => {
    const result = await run((p) => {
      p.eye = "both";
      p.subgroups = [{ by: "age", edgesYears: [7, 10], role: "confirmatory" }];
    });
    const M = result.agreement[0];
    const [{ role, groups }] = M.subgroups;
    expect(role).toBe("confirmatory");
    expect(groups.map(({ group }) => group)).toEqual([
      "below 7 years",
      "7 to below 10 years",
      "10 years and older",
    ]);
    expect(groups.reduce((sum, { eyes }) => sum + eyes, 0)).toBe(M.limits.n);
    const pairs = eyePairs(cohort, { eyes: "both" });
    const { ageMonths, ageYears } = cohort.children;
    const years = (child: number) =>
      Number.isNaN(ageMonths[child]) ? ageYears[child] : ageMonths[child] / 12;
    const rows = Array.from(pairs.subjects.keys()).filter((row) => years(pairs.subjects[row]) < 7);
    const own = limitsOfAgreement({
      test: rows.map((row) => pairs.test[row]),
      reference: rows.map((row) => pairs.reference[row]),
      subjects: rows.map((row) => pairs.subjects[row]),
    });
    const first = groups[0].limits;
    if (first.kind === "undefined") throw new Error(first.reason);
    expect(first.bias).toEqual(own.bias);
    expect(first.lower.value).toBe(own.lower.value);
    expect(reportMarkdown(studyReport(result))).toContain("Agreement of M by age (confirmatory)");
    // the share within the acceptable difference had the interval of as many children as eyes
    const within = known(M.withinAcceptable!);
    expect(within.method).toBe("wilson-clustered");
    expect(within).toEqual(withinDifference(pairs, { acceptable: [0.5] }).shares[0].within);
    const near = pairs.test.filter((value, row) => Math.abs(value - pairs.reference[row]) <= 0.5);
    const eyes = known(proportionInterval({ successes: near.length, trials: pairs.test.length }));
    expect(within.value).toBe(eyes.value);
    expect(within.high - within.low).toBeGreaterThan(eyes.high - eyes.low);
  });

  it("has no limits for fewer than 3 children, and hides small groups from the public", async () => {
    const result = await run((p) => {
      p.audience = "public";
      p.subgroups = [{ by: "age", edgesYears: [7, 8, 18] }];
    });
    const sizes = result.agreement[0].subgroups[0].groups.map((one) => one.children);
    expect(sizes.some((size) => size < 11)).toBe(true);
    const page = reportMarkdown(studyReport(result));
    const lines = page.slice(page.indexOf("Agreement of M by age")).split("\n").slice(4, 9);
    // every band of the protocol stands there, whether or not a child is in it
    expect(lines.map((line) => line.split("|")[1].trim())).toEqual([
      "below 7 years",
      "7 to below 8 years",
      "8 to below 18 years",
      "18 years and older",
      "age not stated",
    ]);
    const shown = lines.filter((line) => !line.includes("not shown"));
    expect(shown.length).toBeLessThanOrEqual(sizes.filter((size) => size >= 11).length);
    expect(shown.length).toBeGreaterThan(0);
    const open = await run((p) => {
      p.subgroups = [{ by: "age", edgesYears: [18] }];
    });
    const least = Math.min(...open.agreement[0].subgroups[0].groups.map((one) => one.children));
    expect(least).toBeLessThan(3);
    for (const { children: n, limits } of open.agreement[0].subgroups[0].groups) {
      expect(limits.kind).toBe(n < 3 ? "undefined" : "limits-of-agreement");
    }
  });
});
