// A protocol whose intervals go by site: also those corrected for who was examined, and the ellipse of astigmatism.
import { mkdtemp, readFile, rm, writeFile } from "node:fs/promises";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { afterAll, beforeAll, describe, expect, it } from "vitest";
import { defineProtocol } from "../../src/protocol/index.js";
import { runStudy, type StudyResult, studyReport } from "../../src/study/index.js";
import { enoughForEllipse } from "../../src/study/run/tooFew.js";
import { demoPart } from "../builders/demoPart.js";
import { known } from "../known.js";

const folders: string[] = [];
let many: StudyResult;
let byChild: StudyResult;

/** A part of the demo programme, its children given to so many sites by their number. */
async function study(clusters: "child" | "site", sites: number): Promise<StudyResult> {
  const folder = await mkdtemp(join(tmpdir(), "meridional-sites-"));
  folders.push(folder);
  await demoPart(folder);
  for (const name of ["invented-readings.csv", "invented-findings.csv"]) {
    const lines = (await readFile(join(folder, name), "utf8")).split("\n");
    const moved = lines.map((line, at) => {
      const [id, , ...rest] = line.split(",");
      const number = Math.floor(Number(id?.slice(1)) / 3) % sites;
      return at === 0 || rest.length === 0 ? line : [id, `site ${number}`, ...rest].join(",");
    });
    await writeFile(join(folder, name), moved.join("\n"));
  }
  const json = JSON.parse(await readFile("data/demo/protocol.json", "utf8"));
  const protocol = { ...json, audience: "journal", clusters, replicates: 60 };
  return runStudy(defineProtocol(protocol), { folder });
}

beforeAll(async () => {
  byChild = await study("child", 12);
  many = await study("site", 12);
}, 240_000);
afterAll(async () => {
  for (const folder of folders) await rm(folder, { recursive: true, force: true });
});

const methodsOf = (result: StudyResult) => {
  const { sections } = studyReport(result);
  return JSON.stringify(sections.find(({ id }) => id === "methods"));
};

describe("a study by site", () => {
  it("widens what is corrected for who was examined, and keeps its values", () => {
    const wide = many.conditions[0]!.verification!.corrected;
    const narrow = byChild.conditions[0]!.verification!.corrected;
    expect(wide.sites).toBe(12);
    for (const measure of ["specificity", "prevalence", "positivePredictiveValue"] as const) {
      expect(wide[measure]).toMatchObject({
        kind: "estimate",
        method: "verification-draws-sites",
        value: narrow[measure].kind === "estimate" ? narrow[measure].value : null,
      });
      expect(wide[measure].low).toBeLessThan(narrow[measure].low!);
      expect(wide[measure].high).toBeGreaterThan(narrow[measure].high!);
    }
    expect(many.conditions[0]!.outcomes!.referred).toMatchObject({
      method: "verification-draws-sites",
    });
  });

  it("the groups that are the sites themselves stay by child", () => {
    const { subgroups } = many.conditions[0]!;
    const methods = (by: string) =>
      subgroups
        .find((one) => one.by === by)!
        .corrected!.map(({ corrected }) => corrected.prevalence)
        .flatMap((one) => (one.kind === "estimate" ? [one.method] : []));
    expect(new Set(methods("site"))).toEqual(new Set(["verification-draws"]));
    expect(methods("age").every((method) => method.startsWith("verification-draws-sites"))).toBe(
      true,
    );
  });

  it("the ellipse of mean astigmatism is over sites, and wants more than 4", () => {
    const methodIn = ({ astigmatism }: StudyResult) =>
      astigmatism?.summary.ellipses.centroid.method ?? null;
    expect(methodIn(many)).toBe("hotelling-sites");
    expect(methodIn(byChild)).not.toBe("hotelling-sites");
    const clusters = (count: number) => {
      const site = Array.from({ length: 60 }, (_, row) => row % count);
      return { clusters: { subject: site.map((_, row) => row), site } };
    };
    expect([4, 5].map((count) => enoughForEllipse(clusters(count)))).toEqual([false, true]);
  });

  it("weighted areas and limits, and the programme's figures, are over sites", () => {
    const [wide, narrow] = [many, byChild].map(({ conditions, agreement, programme }) => ({
      area: known(conditions[0]!.weighted!.area),
      limits: agreement.find(({ quantity }) => quantity === "M")!.weighted!,
      described: programme![0]!.description,
    }));
    expect(wide!.area.method).toMatch(/^site-jackknife/);
    expect(wide!.area.value).toBeCloseTo(narrow!.area.value, 12);
    expect(wide!.limits).toMatchObject({ kind: "weighted-limits", sites: 12 });
    if ("reason" in wide!.limits || "reason" in narrow!.limits) throw new Error("no limits");
    expect(wide!.limits.bias.value).toBeCloseTo(narrow!.limits.bias.value, 12);
    expect(wide!.limits.bias.method).toBe("site-jackknife");
    expect(wide!.described).toMatchObject({ sites: 12 });
    const { corrected, measures } = wide!.described.overall;
    expect(corrected.specificity).toMatchObject({ method: "verification-draws-sites" });
    expect(corrected.specificity.value).toBe(narrow!.described.overall.corrected.specificity.value);
    expect(measures.find(({ id }) => id === "referred")!.estimate).toMatchObject({
      method: "site-jackknife",
    });
    const places = wide!.described.groupings.find(({ by }) => by === "site")!;
    expect(places.groups[0]!.corrected.sites).toBeUndefined();
  });

  it("the methods say so", () => {
    expect(methodsOf(many)).toContain("Intervals corrected for who was examined are widened");
    expect(methodsOf(many)).toContain("with sites that count as 4 or fewer its figure is left out");
    expect(methodsOf(many)).toContain(
      "Numbers weighted for who was examined are jackknifed likewise, their weights estimated anew without each site. So are shares of the programme's figures",
    );
    expect(methodsOf(many)).toContain("by a bootstrap of sites (Efron 1983), which below 40");
    expect(methodsOf(many)).not.toContain("resamples of children");
    expect(methodsOf(byChild)).toContain("resamples of children");
    expect(methodsOf(byChild)).not.toContain("widened");
  });
});
