import { resolve } from "node:path";
import { type Browser, chromium, type Page } from "playwright-core";
import { afterAll, beforeAll, describe, expect, it } from "vitest";
import { askStudy, inventedStudy, startWorker } from "../builders/pageStudies.js";
import { pathOf } from "../builders/program.js";
import { studyInFolder } from "../builders/studyInFolder.js";
import { differencesBetween } from "./differences.js";

const cohorts = 50;

// The worker that the page brings along, asked in Chromium itself; nothing is drawn.
describe("the page's worker in Chromium, against Node.js", () => {
  let browser: Browser;
  let page: Page;

  beforeAll(async () => {
    browser = await chromium.launch({
      executablePath: pathOf("chromium"),
      args: ["--no-sandbox", "--disable-gpu", "--disable-background-networking"],
    });
    page = await browser.newPage();
    page.setDefaultTimeout(180_000);
    await page.goto(`file://${resolve("out/pages/study.html")}`);
    await page.evaluate(startWorker);
  });
  afterAll(() => browser?.close());

  it(`gives the same counts, texts and decisions for ${cohorts} invented cohorts, and numbers within 1e-12`, async () => {
    const worst: { readonly path: string; readonly distance: number }[] = [];
    let compared = 0;
    for (let cohort = 0; cohort < cohorts; cohort++) {
      const study = await inventedStudy(cohort);
      const seen = await page.evaluate(askStudy, study);
      const { count, others, numbers } = differencesBetween(
        await studyInFolder(study),
        JSON.parse(seen),
      );
      compared += count;
      expect(others, study.name).toEqual([]);
      worst.push(...numbers);
    }
    worst.sort((a, b) => b.distance - a.distance);
    console.log(
      `${compared} numbers compared, ${worst.length} differ; the most: ${worst
        .slice(0, 5)
        .map(({ path, distance }) => `${path} ${distance.toExponential(1)}`)
        .join(", ")}`,
    );
    expect(compared).toBeGreaterThan(50_000);
    expect(worst.filter(({ distance }) => !(distance <= 1e-12))).toEqual([]);
  });
});
