// Figures of a programme with sites above its children.
import { describe, expect, it } from "vitest";
import { correctByDecision } from "../../src/accuracy/index.js";
import { siteJackknife } from "../../src/inference/index.js";
import { createRandom } from "../../src/inference/random.js";
import {
  coarseMeasures,
  describeProgramme,
  type ProgrammeGroup,
  type ProgrammeMeasureId,
} from "../../src/programme/index.js";
import { known } from "../known.js";

const schools = 9;
/** Schools that refer, and are examined, at rates of their own. */
const children = (() => {
  const random = createRandom(77);
  return Array.from({ length: 900 }, (_, child) => {
    const school = Math.floor((child / 900) ** 1.2 * schools);
    const refers = random.uniform() < 0.08 + 0.05 * (school % 4);
    const examined = random.uniform() < (refers ? 0.5 + 0.1 * (school % 3) : 0.2);
    const has = random.uniform() < (refers ? 0.4 : 0.03);
    return {
      decision: refers ? "refer" : random.uniform() < 0.03 ? "unable" : "pass",
      condition: examined ? has : null,
      reason: examined ? (refers ? "referred" : "sampled") : "not-examined",
      school: `school ${school}`,
      age: child % 2 === 0 ? "below 6 years" : "6 years and older",
      days:
        examined && refers
          ? 10 * (1 + (school % 3)) + Math.floor(20 * random.uniform())
          : Number.NaN,
    };
  });
})();
const column = <Name extends keyof (typeof children)[number]>(name: Name) =>
  children.map((child) => child[name]);
const columns = {
  decision: column("decision"),
  condition: column("condition"),
  reason: column("reason"),
  daysToExam: column("days"),
  by: { site: column("school"), age: column("age") },
};
const site = column("school");
const bySite = describeProgramme({ ...columns, site }, { replicates: 400 });
const byChild = describeProgramme(columns, { replicates: 400 });

const estimate = ({ measures }: ProgrammeGroup, id: ProgrammeMeasureId) =>
  known(measures.find((one) => one.id === id)!.estimate);

describe("a programme by site", () => {
  it("has shares that are jackknifed over sites", () => {
    for (const [id, holds, among] of [
      ["referred", (row: number) => children[row]!.decision !== "pass", () => true],
      [
        "predictiveValue",
        (row: number) => children[row]!.condition === true,
        (row: number) => children[row]!.decision !== "pass" && children[row]!.condition !== null,
      ],
    ] as const) {
      const wanted = siteJackknife(
        (rows) => rows.filter((row) => among(row) && holds(row)).length / rows.filter(among).length,
        { site, scale: "logit", denominator: children.map((_, row) => Number(among(row))) },
      );
      const found = estimate(bySite.overall, id);
      expect(found).toMatchObject({ method: "site-jackknife" });
      expect(found.low).toBeCloseTo(known(wanted).low, 10);
      expect(found.high).toBeCloseTo(known(wanted).high, 10);
      expect(found.value).toBe(estimate(byChild.overall, id).value);
    }
    const [exams, value] = (["examsPerCase", "predictiveValue"] as const).map((id) =>
      estimate(bySite.overall, id),
    );
    expect([exams!.low, exams!.high]).toEqual([1 / value!.high, 1 / value!.low]);
  });

  it("corrects by the function that a study uses", () => {
    const decision = columns.decision;
    const wanted = correctByDecision(
      {
        recorded: decision,
        test: decision.map((word) => (word === "unable" ? "undecidable" : word === "refer")),
        reference: columns.condition,
        reason: columns.reason,
        clusters: { subject: decision.map((_, row) => row), site },
      },
      { undecidable: "refer", replicates: 400 },
    );
    expect(bySite.overall.corrected).toEqual(wanted);
    expect(wanted.sites).toBe(schools);
    expect(estimate(bySite.overall, "specificity").method).toMatch(/^verification-draws-sites/);
  });

  it("counts effective children for the median of days", () => {
    const found = estimate(bySite.overall, "daysToExam");
    const plain = estimate(byChild.overall, "daysToExam");
    expect(found.value).toBe(plain.value);
    expect(found.high - found.low).toBeGreaterThan(plain.high - plain.low);
  });

  it("keeps groups that are sites by child, and tests no groups that share sites", () => {
    const [ofSites, ofAges] = bySite.groupings;
    const [plainSites, plainAges] = byChild.groupings;
    expect(ofSites).toEqual(plainSites);
    expect(ofAges!.groups.map((group) => estimate(group, "referred").method)).toEqual([
      "site-jackknife",
      "site-jackknife",
    ]);
    expect(ofAges!.sameInAll.every(({ test }) => test.kind === "undefined")).toBe(true);
    expect(plainAges!.sameInAll.some(({ test }) => test.kind === "homogeneity")).toBe(true);
    expect(bySite).toMatchObject({ sites: schools });
    expect(bySite.notes.at(-1)).toContain("Intervals go by site");
  });

  it("says why there is no interval with one site, and keeps the counts", () => {
    const one = describeProgramme({ ...columns, site: site.map(() => "a") }, { replicates: 20 });
    const referred = one.overall.measures.find(({ id }) => id === "referred")!;
    // a grouping within one site is by child, the whole is not
    expect(referred.estimate).toMatchObject({
      kind: "undefined",
      reason: expect.stringContaining("fewer than 2 give no interval"),
    });
    expect([referred.counted, referred.of]).toEqual([
      byChild.overall.counts.referred,
      byChild.overall.counts.screened,
    ]);
  });

  it("gives the public its rates without an interval, which needs the children of each site", () => {
    const count = (middle: number) => ({ low: middle - 2, middle, high: middle + 2 });
    const figures = {
      shares: { referred: { counted: [count(100)], rest: [count(300)] } },
      corrected: {},
    } as unknown as Parameters<typeof coarseMeasures>[0];
    const rateOf = (clusters: "child" | "site") =>
      coarseMeasures(figures, { level: 0.95, clusters })[0]!.rate;
    expect(rateOf("child")).toHaveProperty("low");
    expect(rateOf("site").low ?? null).toBe(null);
    expect(rateOf("site").from).toBe(rateOf("child").from);
  });
});
