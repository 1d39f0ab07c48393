// The bench of a rule with age bands: counts of a band at every place of its limits, added in the page.
import { mkdtemp, readFile, rm } from "node:fs/promises";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { afterAll, beforeAll, describe, expect, it } from "vitest";
import { crossClassify } from "../../src/accuracy/index.js";
import { type Cohort, linkCohort, readFindings, readReadings } from "../../src/cohort/index.js";
import { createRandom, proportionInterval } from "../../src/inference/index.js";
import { defineProtocol, ruleOf } from "../../src/protocol/index.js";
import type { TwoByTwo } from "../../src/results/index.js";
import { decideCohort, type ReferralRule } from "../../src/rules/index.js";
import { runStudy, type StudyResult, studyReport } from "../../src/study/index.js";
import { reportHtml } from "../../src/study/publish/writeHtml.js";
import type { RuleBenchData } from "../../src/study/publish/ruleBenchPage.js";
import type { MovedLimits } from "../../src/study/run/movedLimits.js";
import { demoPart } from "../builders/demoPart.js";
import { scriptPage } from "../builders/scriptPage.js";

const json = JSON.parse(await readFile("data/demo/rule-protocol.json", "utf8"));
let folder: string;
let cohort: Cohort;
let eligible: (child: number) => boolean;

beforeAll(async () => {
  folder = await mkdtemp(join(tmpdir(), "meridional-rule-bench-"));
  await demoPart(folder);
  const columns = JSON.parse(await readFile("data/demo/columns.json", "utf8"));
  const read = { columns, allowIdentifiers: ["age_months"] };
  cohort = linkCohort({
    readings: await readReadings(join(folder, "invented-readings.csv"), read),
    findings: await readFindings(join(folder, "invented-findings.csv"), read),
    instrument: "handheld",
    cycloplegia: "none",
    correction: "none",
    repeats: "last",
    daysBetween: [0, 365],
    referenceCycloplegia: ["full"],
  });
  const { ageMonths, readingRow } = cohort.children;
  eligible = (child) =>
    ageMonths[child] >= 36 &&
    ageMonths[child] < 84 &&
    Math.max(readingRow.right[child], readingRow.left[child]) >= 0;
});
afterAll(() => rm(folder, { recursive: true, force: true }));

const studyWith = (change: (draft: typeof json) => void): Promise<StudyResult> => {
  const draft = structuredClone(json);
  draft.replicates = 40;
  draft.conditions = [draft.conditions[0]];
  change(draft);
  return runStudy(defineProtocol(draft), { folder, workers: 1 });
};
const complete = (draft: typeof json) => {
  draft.verification = "complete";
  delete draft.verificationStrata;
};

const movedOf = ({ conditions }: StudyResult): MovedLimits => conditions[0]!.rules!.moved!;
const cells = ["truePositive", "falsePositive", "falseNegative", "trueNegative"] as const;
const plus = (one: TwoByTwo, other: TwoByTwo): TwoByTwo => ({
  truePositive: one.truePositive + other.truePositive,
  falsePositive: one.falsePositive + other.falsePositive,
  falseNegative: one.falseNegative + other.falseNegative,
  trueNegative: one.trueNegative + other.trueNegative,
});

/** Row by row, by the rules room, with the limits of the bands where they are wanted. */
function bruteForce(rule: ReferralRule, result: StudyResult): TwoByTwo {
  const condition = ruleOf(result.protocol.conditions[0]!.target, "finding")!;
  const decided = decideCohort(cohort, { refer: rule, condition });
  const rows = Array.from(decided.subjects.keys()).filter((row) =>
    eligible(decided.subjects[row]!),
  );
  return crossClassify(
    {
      test: rows.map((row) => decided.decision[row]!),
      reference: rows.map((row) => decided.condition[row]!),
    },
    { undecidable: result.protocol.undecidable },
  );
}

const benchOf = (result: StudyResult) =>
  studyReport(result)
    .sections.flatMap(({ blocks }) => blocks)
    .filter((block) => block.kind === "rule-bench");

/** What the page starts from. */
async function dataOf(result: StudyResult): Promise<RuleBenchData> {
  const html = await reportHtml(studyReport(result), new Map());
  const [, line] = /^const benches = (.*);$/m.exec(html)!;
  const [data] = JSON.parse(line!) as [RuleBenchData];
  expect(data.kind).toBe("rule-bench");
  return data;
}

for (const [name, change] of [
  ["passes examined in part", () => {}],
  ["everybody examined", complete],
  [
    "the undecidable left out",
    (draft: typeof json) => {
      complete(draft);
      draft.undecidable = "exclude";
    },
  ],
] as const) {
  describe(`a rule whose limits move, ${name}`, () => {
    let result: StudyResult;
    beforeAll(async () => {
      result = await studyWith(change);
    });

    it("adds up to the table of the report where no limit is moved", () => {
      const [condition] = result.conditions;
      const { bands, still } = movedOf(result);
      const fixed = bands.map(({ asFixed }) => asFixed);
      expect([...fixed, still].map(({ table }) => table).reduce(plus)).toEqual(condition!.table);
      expect(bands.length).toBe(2);
      for (const { asFixed, limits } of bands) {
        expect(limits.length).toBe(4);
        for (const { limit, stops } of limits) {
          const { limit: at, ...counts } = stops.find((stop) => stop.limit === limit)!;
          expect([at, counts]).toEqual([limit, asFixed]);
        }
      }
      const screened = [...fixed, still].reduce((sum, one) => sum + one.screened, 0);
      if (result.protocol.undecidable === "refer") expect(screened).toBe(condition!.screened);
    });

    it("never finds fewer, or refers fewer, at a more lenient limit", () => {
      for (const { limits } of movedOf(result).bands) {
        for (const { relation, stops } of limits) {
          const lenient = relation.startsWith(">") ? stops.toReversed() : stops;
          for (const [at, stop] of lenient.entries()) {
            if (at === 0) continue;
            const before = lenient[at - 1]!;
            const rate = ({ table }: typeof stop) =>
              table.truePositive / (table.truePositive + table.falseNegative);
            expect(rate(stop)).toBeGreaterThanOrEqual(rate(before));
            expect(stop.referred).toBeGreaterThanOrEqual(before.referred);
            expect(stop.table.truePositive).toBeGreaterThanOrEqual(before.table.truePositive);
            expect(stop.table.falseNegative).toBeLessThanOrEqual(before.table.falseNegative);
          }
          // the counts do move
          expect(lenient.at(-1)!.referred).toBeGreaterThan(lenient[0]!.referred);
        }
      }
    });

    it("shows at 200 random rules what the cohort's rows give one by one", async () => {
      const data = await dataOf(result);
      const { at, set } = scriptPage([data]);
      const part = (of: string) => `bench-risk-factors-${of}`;
      const random = createRandom(27);
      for (let draw = 0; draw < 200; draw++) {
        const rule = structuredClone(data.rule) as ReferralRule;
        for (const [band, { limits }] of data.bands.entries()) {
          const which = random.integer(limits.length);
          const { path, stops } = limits[which]!;
          const { limit } = stops[random.integer(stops.length)]!;
          set(part(`band-${band}-which`), String(which));
          set(part(`band-${band}-limit`), String(limit));
          // biome-ignore lint/suspicious/noExplicitAny: a rule as JSON
          let own = rule as any;
          for (const key of path) own = own[key];
          own.limit = limit;
        }
        const table = bruteForce(rule, result);
        expect(cells.map((cell) => at(part(cell)).textContent)).toEqual(
          cells.map((cell) => String(table[cell])),
        );
        const sensitivity = proportionInterval({
          successes: table.truePositive,
          trials: table.truePositive + table.falseNegative,
        });
        if (sensitivity.kind === "undefined") throw new Error(sensitivity.reason);
        const [value, low, high] = [sensitivity.value, sensitivity.low, sensitivity.high].map(
          (share) => (100 * share).toFixed(1),
        );
        expect(at(part("sensitivity")).textContent).toBe(`${value} % (${low} to ${high})`);
      }
    });
  });
}

describe("where no limit of a rule moves", () => {
  it("makes no counts for the public, and says why", async () => {
    const open = await studyWith((draft) => {
      draft.audience = "public";
    });
    expect(open.conditions[0]!.rules!.moved).toBe(null);
    const report = studyReport(open);
    expect(benchOf(open)).toEqual([]);
    expect(JSON.stringify(report)).toContain("every stop is a count of single children");
  });

  it("says so where sites make counts alone too little, and where nobody who passed was examined", async () => {
    const result = await studyWith(complete);
    const [bench] = benchOf(result);
    expect(bench).toMatchObject({ data: { kind: "rule-bench", partly: false } });
    const words = (protocol: object) =>
      JSON.stringify(
        studyReport({
          ...result,
          protocol: { ...result.protocol, ...protocol } as typeof result.protocol,
        }),
      );
    expect(words({ clusters: "site" })).toContain("Children of one site are alike");
    expect(words({ verification: "none" })).toContain("the missed are unknown");
  });

  it("never calls the rates of the examined corrected", async () => {
    const result = await studyWith(() => {});
    const [bench] = benchOf(result);
    if (bench?.kind !== "rule-bench") throw new Error("no bench");
    expect(bench.counting).toBe(", as examined");
    const html = await reportHtml(studyReport(result), new Map());
    const start = html.indexOf('id="bench-risk-factors-bench"');
    const own = html.slice(start, html.indexOf("</section>", start));
    expect(own).toContain("Estimates, as examined (95 % intervals)");
    expect(own).toContain("Of 1000 screened, examined or not");
    // the numbers of a page without scripts are those of the rule fixed in advance
    const { table } = result.conditions[0]!;
    expect(own).toContain(`id="bench-risk-factors-truePositive">${table.truePositive}</td>`);
    const sentences = own.split(/[.:]\s/).filter((one) => /\bcorrected\b/.test(one));
    expect(sentences.length).toBeGreaterThan(0);
    for (const one of sentences) expect(one).toMatch(/corrected for|rates corrected/);
  });
});
