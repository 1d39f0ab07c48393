// The files of written reports, read back and attacked with an exact solver of whole numbers. A short form
// here; `npm run redteam` attacks 2,000 random cohorts, goes on where it was interrupted, and writes what it
// found to redTeam.json (COHORTS and FROM change the run).
import { appendFileSync, existsSync, mkdirSync, readFileSync, writeFileSync } from "node:fs";
import { expect, it, vi } from "vitest";
import { attackStudy, type StudyAttack } from "./team/attackStudy.js";
import { summaryOf, type TeamSummary } from "./team/summaryOf.js";

const isLong = process.env.REDTEAM === "long";
/** Whether pixels, which hold no text, and pictures whose words stand in the page are left out. */
const quick = vi.hoisted(() => ({ is: false }));
vi.mock("../../src/figures/render/png.js", async (original) => {
  const real = await original<typeof import("../../src/figures/render/png.js")>();
  const none = { png: new Uint8Array(8), width: 1, height: 1, pixels: new Uint8Array(4) };
  const svgToPng: typeof real.svgToPng = (...given) =>
    quick.is ? Promise.resolve(none) : real.svgToPng(...given);
  return { ...real, svgToPng };
});
vi.mock("../../src/figures/render/chartSvg.js", async (original) => {
  const real = await original<typeof import("../../src/figures/render/chartSvg.js")>();
  const svg = "<svg/>";
  const plane = { x: 0, y: 0, width: 1, height: 1 };
  const empty = { svg, screen: svg, widthPoints: 1, heightPoints: 1, plane, warnings: [] };
  const chartSvg: typeof real.chartSvg = (figure, ...rest) =>
    quick.is && /^(outcomes|roc)/.test(figure.name)
      ? Promise.resolve(empty)
      : real.chartSvg(figure, ...rest);
  return { ...real, chartSvg };
});
vi.mock("../../src/study/publish/writeSummary.js", async (original) => {
  const real = await original<typeof import("../../src/study/publish/writeSummary.js")>();
  const pageOfSummary: typeof real.pageOfSummary = (...given) =>
    quick.is ? Promise.resolve(null as never) : real.pageOfSummary(...given);
  const summaryPng: typeof real.summaryPng = (...given) =>
    quick.is ? Promise.resolve(new Uint8Array(8)) : real.summaryPng(...given);
  return { ...real, pageOfSummary, summaryPng };
});

const attackOf = (seed: number, every: boolean): Promise<StudyAttack> => {
  quick.is = !every;
  return attackStudy(seed, every ? ["html", "markdown", "word", "pdf"] : ["html", "markdown"]);
};

it("the files of a few written reports disclose no small count", { timeout: 120_000 }, async () => {
  // everybody examined, two conditions, groups; a programme with passes drawn; two samples; every file of a small one
  const attacks = [
    await attackOf(37, false),
    await attackOf(3, false),
    await attackOf(40, false),
    await attackOf(14, true),
  ];
  for (const { disclosed, elsewhere, mistakes, refused, files } of attacks) {
    expect({ disclosed, elsewhere, mistakes, refused }).toEqual({
      disclosed: [],
      elsewhere: [],
      mistakes: [],
    });
    expect(files).toBeGreaterThan(15);
  }
  expect(attacks.reduce((sum, { tried }) => sum + tried, 0)).toBeGreaterThan(50);
});

const summaryFile = new URL("redTeam.json", import.meta.url);

it.runIf(isLong)("2,000 written cohorts", { timeout: 86_400_000 }, async () => {
  const [from, cohorts] = [Number(process.env.FROM ?? 1), Number(process.env.COHORTS ?? 2000)];
  mkdirSync("out/redteam", { recursive: true });
  const lines = "out/redteam/attacks.jsonl";
  const before = (): StudyAttack[] =>
    existsSync(lines)
      ? readFileSync(lines, "utf8")
          .split("\n")
          .filter(Boolean)
          .map((line) => JSON.parse(line))
      : [];
  const done = new Set(before().map(({ seed }) => seed));
  for (let seed = from; seed < from + cohorts; seed++) {
    if (done.has(seed)) continue;
    // every twentieth with every form
    appendFileSync(lines, `${JSON.stringify(await attackOf(seed, seed % 20 === 0))}\n`);
  }
  const summary = summaryOf(before());
  writeFileSync(summaryFile, `${JSON.stringify(summary, null, 2)}\n`);
  expect(summary.disclosed).toEqual([]);
});

it.runIf(existsSync(summaryFile))("the committed run disclosed nothing", () => {
  const committed = JSON.parse(readFileSync(summaryFile, "utf8")) as TeamSummary;
  expect(committed).toMatchObject({ cohorts: 2000, disclosed: [], elsewhere: [] });
  // two sums that the attacker set up for one cohort, which the truth does not fit: it was not attacked
  expect(committed.mistakes).toEqual(["cohort 1371: truePositive", "cohort 1371: compared"]);
  expect(committed.tried).toBeGreaterThan(50_000);
});
