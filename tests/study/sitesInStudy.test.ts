// A protocol whose intervals go by site; beside the same study by child in sitesInStudy.slow.ts.
import { beforeAll, describe, expect, it } from "vitest";
import { type StudyResult, studyReport } from "../../src/study/index.js";
import { enoughForEllipse } from "../../src/study/run/tooFew.js";
import { studyBySite } from "./studyBySite.js";

let many: StudyResult;
beforeAll(async () => {
  many = await studyBySite("site", { sites: 12, every: 9 });
});

const methodsOf = (result: StudyResult) => {
  const { sections } = studyReport(result);
  return JSON.stringify(sections.find(({ id }) => id === "methods"));
};

describe("a study by site", () => {
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
    const clusters = (count: number) => {
      const site = Array.from({ length: 60 }, (_, row) => row % count);
      return { clusters: { subject: site.map((_, row) => row), site } };
    };
    expect([4, 5].map((count) => enoughForEllipse(clusters(count)))).toEqual([false, true]);
  });

  it("the methods say so", () => {
    expect(methodsOf(many)).toContain("Intervals corrected for who was examined are widened");
    expect(methodsOf(many)).toContain("with sites that count as 4 or fewer its figure is left out");
  });
});
