// The verdict on criteria stated in advance: met where the whole interval lies above, not met where it
// lies below, else it cannot be said.
import { readFileSync } from "node:fs";
import fc from "fast-check";
import { beforeAll, describe, expect, it } from "vitest";
import { criteriaOf, defineProtocol, journalStyleOf } from "../../src/protocol/index.js";
import { coarseStudy } from "../../src/study/coarse/coarseStudy.js";
import { coarseVerdict } from "../../src/study/coarse/coarseVerdict.js";
import { type Report, runStudy, studyReport, summaryLines } from "../../src/study/index.js";
import { drawFigure } from "../../src/study/publish/drawnFigure.js";
import { reportHtml } from "../../src/study/publish/writeHtml.js";
import { reportMarkdown } from "../../src/study/publish/writeMarkdown.js";
import { studyVerdict } from "../../src/study/run/studyVerdict.js";
import { verdictOn, verdictOnAll } from "../../src/study/run/verdict.js";
import { known } from "../known.js";

const children = JSON.parse(readFileSync("data/children/protocol.json", "utf8"));
type Study = Awaited<ReturnType<typeof runStudy>>;
const run = (changes: object) =>
  runStudy(defineProtocol({ ...children, replicates: 0, ...changes }), { folder: "data/children" });
/** The same numbers judged by other criteria. */
const judged = (study: Study, criteria: object | undefined): Study => {
  const protocol = { ...study.protocol, criteria };
  return { ...study, protocol, verdict: studyVerdict({ ...study, protocol }) } as Study;
};

/** The figures of a report, drawn. */
const drawnFigures = async (report: Report) => {
  const figures = report.sections
    .flatMap(({ blocks }) => blocks)
    .filter((block) => block.kind === "figure");
  const drawn = await Promise.all(figures.map((figure) => drawFigure(figure, journalStyleOf({}))));
  return new Map(figures.map(({ name }, at) => [name, drawn[at]] as const));
};

let study: Study;
let forPublic: Study;
beforeAll(async () => {
  study = await run({});
  forPublic = await run({ audience: "public" });
});

describe("one criterion", () => {
  it.each([
    [0.81, 0.9, "met"],
    [0.8, 0.9, "cannot be said"],
    [0.7, 0.9, "cannot be said"],
    [0.7, 0.8, "cannot be said"],
    [0.7, 0.79, "not met"],
    [0.8, 0.8, "cannot be said"],
  ])("at least 0.8, interval %d to %d: %s", (low, high, verdict) => {
    expect(verdictOn({ low, high }, 0.8)).toBe(verdict);
  });

  it("without an interval nothing can be said", () => {
    expect(verdictOn(null, 0.8)).toBe("cannot be said");
  });

  it("is never met or failed where the interval holds what was asked, and rises with the interval", () => {
    const share = fc.double({ min: 0, max: 1, noNaN: true });
    const order = ["not met", "cannot be said", "met"];
    fc.assert(
      fc.property(share, share, share, share, (one, other, least, up) => {
        const [low, high] = [Math.min(one, other), Math.max(one, other)];
        const verdict = verdictOn({ low, high }, least);
        expect(verdict === "cannot be said").toBe(low <= least && least <= high);
        const higher = verdictOn({ low: low + up, high: high + up }, least);
        expect(order.indexOf(higher)).toBeGreaterThanOrEqual(order.indexOf(verdict));
      }),
    );
  });
});

describe("all criteria", () => {
  const ends = { met: [0.9, 1], "not met": [0, 0.1], "cannot be said": [0.1, 0.9] } as const;
  type Verdict = keyof typeof ends;
  const all = (sensitivity: Verdict, specificity: Verdict) =>
    verdictOnAll(
      {
        criteria: { sensitivityAtLeast: 0.5, specificityAtLeast: 0.5 },
        conditions: [{ id: "one", role: "confirmatory" }],
      },
      ({ measure }) => {
        const [low, high] = ends[measure === "sensitivity" ? sensitivity : specificity];
        return { found: null, interval: { low, high } };
      },
    )!.verdict;

  it.each([
    ["met", "met", "met"],
    ["met", "not met", "not met"],
    ["met", "cannot be said", "cannot be said"],
    ["not met", "not met", "not met"],
    ["not met", "cannot be said", "not met"],
    ["cannot be said", "cannot be said", "cannot be said"],
  ] as const)("%s and %s: %s", (one, other, verdict) => {
    expect(all(one, other)).toBe(verdict);
    expect(all(other, one)).toBe(verdict);
  });

  it("a condition's own criteria stand in place of the study's, one by one", () => {
    const criteria = { sensitivityAtLeast: 0.9, withinAcceptableAtLeast: 0.8 };
    const conditions = [
      { id: "a", role: "confirmatory", criteria: { sensitivityAtLeast: 0.7 } },
      { id: "b", role: "confirmatory", criteria: { specificityAtLeast: 0.6 } },
      { id: "c", role: "exploratory" },
    ] as const;
    const asked = criteriaOf({ criteria, conditions });
    expect(asked.map(({ condition, measure, least }) => [condition, measure, least])).toEqual([
      ["a", "sensitivity", 0.7],
      ["b", "sensitivity", 0.9],
      ["b", "specificity", 0.6],
      [null, "withinAcceptable", 0.8],
    ]);
    expect(criteriaOf({ conditions: [] })).toEqual([]);
  });
});

describe("a study", () => {
  it("goes by the intervals of its headline and of its share, a hair to either side", () => {
    const sensitivity = known(study.conditions[0].accuracy.sensitivity);
    const within = known(study.agreement[0].withinAcceptable!);
    const verdict = (criteria: object) => judged(study, criteria).verdict!.verdict;
    for (const [key, { low, high }] of [
      ["sensitivityAtLeast", sensitivity],
      ["withinAcceptableAtLeast", within],
    ] as const) {
      expect(verdict({ [key]: low - 1e-9 })).toBe("met");
      expect(verdict({ [key]: low })).toBe("cannot be said");
      expect(verdict({ [key]: high })).toBe("cannot be said");
      expect(verdict({ [key]: high + 1e-9 })).toBe("not met");
    }
  });

  it("says it first after the question, in every form, with what was found", async () => {
    // 204 of 214 with the condition were referred (204/41/10/283); 297 of 538 lie within 0.50 D
    const sentence =
      /^Not all criteria stated in advance are met\. Sensitivity \(Myopia of 3\.00 D or more\) at least 90 %: met, 95\.3 % \(91\.6 to 97\.\d\); Specificity .*; Differences of M within ±0\.50 D at least 80 %: not met, 55\.2 % \(51\.0 to 59\.\d\)\. It cannot be said where the interval lies on both sides of what was asked\.$/;
    expect(summaryLines(study).at(-1)).toMatch(sentence);
    const report = studyReport(study);
    const [question, verdict] = report.sections[0].blocks;
    expect(question).toMatchObject({ text: study.protocol.question });
    expect(verdict).toMatchObject({ emphasis: "headline", text: expect.stringMatching(sentence) });
    const first = { ...report, sections: report.sections.slice(0, 1) };
    const html = await reportHtml(first, await drawnFigures(first));
    for (const page of [reportMarkdown(report), html]) {
      expect(page).toContain("Not all criteria stated in advance are met.");
      expect(page).toContain("Criteria stated in advance");
    }
  });

  it("without criteria has no verdict, in no form", () => {
    for (const audience of ["journal", "public"] as const) {
      const none = judged(audience === "public" ? forPublic : study, undefined);
      expect(none.verdict).toBeNull();
      expect(reportMarkdown(studyReport(none))).not.toMatch(/criteria stated in advance/i);
      expect(summaryLines(none).join()).not.toContain("riteria");
    }
  });

  it("prints an interval and what was asked so that they do not look alike", () => {
    const { low } = known(study.conditions[0].accuracy.sensitivity);
    const least = Number(low.toFixed(4)) - 1e-4;
    const line = summaryLines(judged(study, { sensitivityAtLeast: least })).at(-1)!;
    const [, asked, , printed] = line.match(/at least ([\d.]+) %: (met), [\d.]+ % \(([\d.]+) to/)!;
    expect(Number(printed)).toBeGreaterThan(Number(asked));
  });

  it("of which only a part was examined has none on the share among the examined", async () => {
    const partly = await run({ verification: "partial", unit: "eye" });
    const within = partly.verdict!.criteria.find(({ measure }) => measure === "withinAcceptable")!;
    expect(within.verdict).toBe("cannot be said");
    expect(within.found).toMatchObject({ reason: expect.stringContaining("examined only") });
  });
});

describe("for the public", () => {
  it("goes by coarse rates as they are printed, and never says more than the exact result", () => {
    const said = { met: 0, "not met": 0, "cannot be said": 0 };
    for (let percent = 1; percent < 100; percent++) {
      for (const key of ["sensitivityAtLeast", "specificityAtLeast"]) {
        const exact = judged(forPublic, { [key]: percent / 100 });
        const coarse = coarseStudy(exact);
        const { verdict, criteria } = coarse.verdict!;
        said[verdict]++;
        if (verdict !== "cannot be said") expect(verdict).toBe(exact.verdict!.verdict);
        const { found } = criteria[0];
        if (found.kind !== "coarse-rate") throw new Error("no rate");
        const line = summaryLines(exact).at(-1)!;
        const [, low, high] = line.match(/ % \((\d+) to (\d+)\)\.(?: It cannot be said |$)/)!;
        const holds = Number(low) <= percent && percent <= Number(high);
        expect(verdict === "cannot be said").toBe(holds);
      }
    }
    expect(Math.min(...Object.values(said))).toBeGreaterThan(0);
  });

  it("judges the share of differences from coarse counts, and says nothing where these are left out", () => {
    const share = coarseStudy(judged(forPublic, { withinAcceptableAtLeast: 0.01 })).verdict!;
    expect(share.verdict).toBe("met");
    const page = reportMarkdown(studyReport(judged(forPublic, { withinAcceptableAtLeast: 0.01 })));
    const printed = /±[\d.]+ D at least [\d.]+ %: met, (\d+) to (\d+) %/.exec(page)!;
    const exact = 100 * known(forPublic.agreement[0].withinAcceptable!).value;
    expect(Number(printed[1])).toBeLessThanOrEqual(exact);
    expect(Number(printed[2])).toBeGreaterThanOrEqual(exact);
    const { protocol } = judged(forPublic, { withinAcceptableAtLeast: 0.01 });
    const left = coarseVerdict(protocol, [], null)!;
    expect(left.verdict).toBe("cannot be said");
    expect(left.criteria[0].found).toMatchObject({
      reason: "beside the other counts a small one would follow from it",
    });
  });
});
