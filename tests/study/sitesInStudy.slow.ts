// A study by site beside the same by child: what is corrected for who was examined, weighted, and said.
import { beforeAll, describe, expect, it } from "vitest";
import { type StudyResult, studyReport } from "../../src/study/index.js";
import { known } from "../known.js";
import { studyBySite } from "./studyBySite.js";

let many: StudyResult;
let byChild: StudyResult;
beforeAll(async () => {
  byChild = await studyBySite("child", { sites: 12, every: 3 });
  many = await studyBySite("site", { sites: 12, every: 3 });
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

  it("the ellipse of mean astigmatism is over children where the study goes by child", () => {
    const { summary } = byChild.astigmatism!;
    expect(summary.ellipses.centroid.method).not.toBe("hotelling-sites");
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
