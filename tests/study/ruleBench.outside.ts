import { mkdtemp, readFile, rm } from "node:fs/promises";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { type Browser, chromium, type Page } from "playwright-core";
import { afterAll, beforeAll, describe, expect, it } from "vitest";
import { defineProtocol } from "../../src/protocol/index.js";
import { runStudy, type StudyResult, writeReport } from "../../src/study/index.js";
import { axeFindings } from "../builders/axeFindings.js";
import { demoPart } from "../builders/demoPart.js";
import { pathOf } from "../builders/program.js";

// A real browser, from the file system with the network off.
describe("the page of a rule whose limits move, in a browser", () => {
  let browser: Browser;
  let page: Page;
  let folder: string;
  let result: StudyResult;
  const complaints: string[] = [];

  beforeAll(async () => {
    folder = await mkdtemp(join(tmpdir(), "meridional-rule-page-"));
    await demoPart(folder);
    const json = JSON.parse(await readFile("data/demo/rule-protocol.json", "utf8"));
    json.conditions = json.conditions.slice(0, 1);
    json.outputs = ["html"];
    result = await runStudy(defineProtocol({ ...json, replicates: 40 }), { folder });
    await writeReport(result, join(folder, "report"));
    browser = await chromium.launch({
      executablePath: pathOf("chromium"),
      args: ["--no-sandbox", "--disable-gpu", "--disable-background-networking"],
    });
    const context = await browser.newContext({
      offline: true,
      viewport: { width: 1000, height: 900 },
    });
    page = await context.newPage();
    page.setDefaultTimeout(180_000);
    page.on("console", (message) => complaints.push(message.text()));
    page.on("pageerror", (error) => complaints.push(String(error)));
    await page.goto(`file://${join(folder, "report", "report.html")}`);
  });
  afterAll(async () => {
    await browser?.close();
    await rm(folder, { recursive: true, force: true });
  });

  const shown = (part: string) => page.locator(`#bench-risk-factors-${part}`).textContent();

  it("works with the keyboard, keeps its state in the address, and comes back", async () => {
    const { table } = result.conditions[0]!;
    expect(await shown("truePositive")).toBe(String(table.truePositive));
    expect(await shown("standing")).toBe("the rule fixed in advance");
    await page.locator("#bench-risk-factors-band-0-limit").focus();
    await page.keyboard.press("ArrowLeft");
    expect(await shown("band-0-shown")).toBe("≥ +2.50 D");
    expect(await shown("standing")).toBe("exploratory: chosen by looking, not corrected");
    await page.locator("#bench-risk-factors-band-1-which").focus();
    await page.keyboard.press("ArrowDown");
    await page.keyboard.press("Tab");
    await page.keyboard.press("ArrowRight");
    expect(await shown("band-1-shown")).toBe("≤ −1.75 D");
    const counts = await shown("falsePositive");
    expect(Number(counts)).toBeGreaterThan(table.falsePositive);
    await page.reload();
    expect(await shown("falsePositive")).toBe(counts);
    expect(await shown("other-truePositive")).toBe(String(table.truePositive));
    await page.locator("#bench-risk-factors-back").focus();
    await page.keyboard.press("Enter");
    expect(await shown("truePositive")).toBe(String(table.truePositive));
    expect(complaints).toEqual([]);
  });

  it("is filled without scripts, as a table of bands and one of the whole rule", async () => {
    const plain = await browser.newContext({ javaScriptEnabled: false, offline: true });
    const still = await plain.newPage();
    await still.goto(page.url().split("#")[0]!);
    const { truePositive } = result.conditions[0]!.table;
    const cell = still.locator("#bench-risk-factors-truePositive");
    expect(await cell.textContent()).toBe(String(truePositive));
    expect(await still.locator("#bench-risk-factors-controls").isVisible()).toBe(false);
    expect(await still.locator("#move-the-limit").textContent()).toContain("60 months and over");
    await plain.close();
  });

  it("passes the accessibility rules of axe, and fits a phone", async () => {
    expect(await axeFindings(page)).toEqual([]);
    await page.setViewportSize({ width: 375, height: 800 });
    const overflow = await page.evaluate(() => {
      // biome-ignore lint/suspicious/noExplicitAny: the browser's own globals are not typed here
      const { document } = globalThis as any;
      return document.documentElement.scrollWidth - document.documentElement.clientWidth;
    });
    expect(overflow).toBeLessThanOrEqual(0);
    expect(complaints).toEqual([]);
  });
});
