import { mkdtemp, readFile, rm } from "node:fs/promises";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { type Browser, chromium, type Page } from "playwright-core";
import { afterAll, beforeAll, describe, expect, it } from "vitest";
import { accuracyFromCounts } from "../../src/accuracy/index.js";
import { createRandom } from "../../src/inference/index.js";
import { defineProtocol } from "../../src/protocol/index.js";
import { runStudy, type StudyResult, writeReport } from "../../src/study/index.js";
import { axeFindings } from "../builders/axeFindings.js";
import { pathOf, runProgram } from "../builders/program.js";

// A real browser, from the file system with the network off.
describe("the report's page in a browser", () => {
  let browser: Browser;
  let page: Page;
  let folder: string;
  let result: StudyResult;
  const complaints: string[] = [];

  beforeAll(async () => {
    folder = await mkdtemp(join(tmpdir(), "meridional-page-"));
    const json = JSON.parse(await readFile("data/children/protocol.json", "utf8"));
    // a limit is chosen too, with few replicates: nothing here depends on how many
    json.conditions[0].choose = { criterion: "youden" };
    result = await runStudy(defineProtocol({ ...json, replicates: 60 }), {
      folder: "data/children",
    });
    await writeReport(result, join(folder, "report"));
    browser = await chromium.launch({
      executablePath: pathOf("chromium"),
      args: [
        "--no-sandbox",
        "--disable-gpu",
        "--disable-background-networking",
        "--disable-component-update",
      ],
    });
    const context = await browser.newContext({
      offline: true,
      viewport: { width: 1000, height: 900 },
    });
    page = await context.newPage();
    // busier machines than ours run this
    page.setDefaultTimeout(180_000);
    page.on("console", (message) => complaints.push(message.text()));
    page.on("pageerror", (error) => complaints.push(String(error)));
    await page.goto(`file://${join(folder, "report", "report.html")}`);
  });
  afterAll(async () => {
    await browser?.close();
    await rm(folder, { recursive: true, force: true });
  });

  const shown = (part: string) => page.locator(`#bench-myopia-3-${part}`).textContent();

  it("opens without a complaint, with every figure visible", async () => {
    expect(complaints).toEqual([]);
    const widths = await page.$$eval("figure img", (images) =>
      images.map((image) => (image as unknown as { naturalWidth: number }).naturalWidth),
    );
    expect(widths.length).toBe(8);
    expect(Math.min(...widths)).toBeGreaterThan(100);
  });

  it("starts at the limit fixed in advance, with the study's numbers", async () => {
    expect(await shown("limit-shown")).toBe("≤ −3.00 D");
    expect(await shown("standing")).toBe("the limit fixed in advance");
    expect(await shown("truePositive")).toBe("204");
    expect(await shown("sensitivity")).toBe("95.3 % (91.6 to 97.4)");
    expect(await shown("positive")).toContain("the sample was enriched");
  });

  it("shows at 1,000 random positions exactly what accuracyFromCounts gives", async () => {
    const { curve } = result.conditions[0];
    if (curve.kind === "undefined") throw new Error("no curve");
    const stops = curve.points.slice(1);
    const random = createRandom(14);
    const positions = Array.from({ length: 1000 }, () => ({
      stop: random.integer(stops.length),
      prevalence: (0.1 + random.uniform() * 60).toFixed(1),
    }));
    const cutOffs = stops.map(({ cutOff }) => cutOff!);
    const seen = await page.evaluate(
      ([wanted, limits]) => {
        // biome-ignore lint/suspicious/noExplicitAny: the browser's own globals are not typed here
        const { document, Event } = globalThis as any;
        const part = (name: string) => document.getElementById(`bench-myopia-3-${name}`);
        return wanted.map(({ stop, prevalence }) => {
          part("prevalence").value = prevalence;
          part("limit").value = String(limits[stop]);
          part("limit").dispatchEvent(new Event("input"));
          return [
            "truePositive",
            "falsePositive",
            "falseNegative",
            "trueNegative",
            "sensitivity",
            "specificity",
            "positive",
            "negative",
          ].map((name) => part(name).textContent);
        });
      },
      [positions, cutOffs] as const,
    );
    const percent = (estimate: ReturnType<typeof accuracyFromCounts>["sensitivity"]) =>
      estimate.kind === "undefined"
        ? `– (${estimate.reason})`
        : `${(100 * estimate.value).toFixed(1)} % (${(100 * estimate.low).toFixed(1)} to ${(100 * estimate.high).toFixed(1)})`;
    positions.forEach(({ stop, prevalence }, at) => {
      const { truePositive, falsePositive, falseNegative, trueNegative } = stops[stop];
      const accuracy = accuracyFromCounts(
        { truePositive, falsePositive, falseNegative, trueNegative },
        { sampling: "enriched", prevalence: Number(prevalence) / 100 },
      );
      expect(seen[at]).toEqual([
        ...[truePositive, falsePositive, falseNegative, trueNegative].map(String),
        percent(accuracy.sensitivity),
        percent(accuracy.specificity),
        percent(accuracy.positivePredictiveValue),
        percent(accuracy.negativePredictiveValue),
      ]);
    });
  });

  it("works with the keyboard, says what is exploratory, and comes back", async () => {
    await page.locator("#bench-myopia-3-back").click();
    await page.locator("#bench-myopia-3-limit").focus();
    await page.keyboard.press("ArrowRight");
    expect(await shown("standing")).toBe("exploratory: chosen by looking, not corrected");
    expect(await shown("limit-shown")).toBe("≤ −2.875 D");
    expect(await page.locator("#bench-myopia-3-figures").getAttribute("class")).toContain(
      "exploratory",
    );
    await page.locator("#bench-myopia-3-back").focus();
    await page.keyboard.press("Enter");
    expect(await shown("standing")).toBe("the limit fixed in advance");
    await page.locator("#bench-myopia-3-prevalence").fill("0");
    expect(await shown("assumption")).toContain("above 0 and below 100");
    await page.locator("#bench-myopia-3-prevalence").fill("2");
    expect(await shown("assumption")).toContain("An assumption");
  });

  it("offers the corrected figure where the run computed one, and says where it did not", async () => {
    const { chosen } = result.conditions[0];
    if (chosen === null) throw new Error("no chosen limit");
    const percent = (share: number) => `${(100 * share).toFixed(1)} %`;
    const intervalOf = (measure: "sensitivity" | "specificity") => {
      const estimate = chosen.correctedIntervals[measure];
      if (estimate.kind === "undefined") throw new Error(estimate.reason);
      return `${measure} ${percent(chosen.corrected[measure])} (${(100 * estimate.low).toFixed(1)} to ${(100 * estimate.high).toFixed(1)})`;
    };
    const colour = () =>
      page.locator("#bench-myopia-3-sensitivity").evaluate((cell) => {
        // biome-ignore lint/suspicious/noExplicitAny: the browser's own globals are not typed here
        return (globalThis as any).getComputedStyle(cell).color as string;
      });
    await page.locator("#bench-myopia-3-back").click();
    expect(await shown("corrected")).toBe("");
    const plain = await colour();

    await page.locator("#bench-myopia-3-limit").focus();
    await page.keyboard.press("ArrowRight");
    const limit = `≤ −${Math.abs(chosen.cutOff!)}`;
    expect(await shown("corrected")).toMatch(
      /^No corrected figure was computed here\. One was computed at ≤ .*, which the run chose\.$/,
    );
    expect(await shown("corrected")).toContain(limit);

    await page.locator("#bench-myopia-3-chosen").focus();
    await page.keyboard.press("Enter");
    expect(await shown("limit-shown")).toContain(limit);
    expect(await shown("standing")).toBe("exploratory: chosen by looking, not corrected");
    expect(await shown("corrected")).toBe(
      `The run chose this limit. Corrected for optimism: ${intervalOf("sensitivity")} and ${intervalOf("specificity")}, intervals approximate; cross-validated, sensitivity ${percent(chosen.crossValidated!.sensitivity)} and specificity ${percent(chosen.crossValidated!.specificity)}.`,
    );
    // what stands in the table is what the choice is worth on these very data
    expect(await shown("truePositive")).toBe(String(chosen.table.truePositive));
    expect(await colour()).not.toBe(plain);
  });

  it("keeps its state in the address, offers it to take along, and is filled without scripts", async () => {
    await page.locator("#bench-myopia-3-back").click();
    await page.locator("#bench-myopia-3-prevalence").fill("5");
    await page.locator("#bench-myopia-3-limit").focus();
    await page.keyboard.press("ArrowRight");
    const [counts, address] = [await shown("truePositive"), page.url()];
    expect(address).toContain("#bench-myopia-3?limit=-2.875&other-limit=-3&prevalence=5");
    await page.reload();
    expect(await shown("truePositive")).toBe(counts);
    expect(await shown("other-truePositive")).toBe("204");
    const waiting = page.waitForEvent("download");
    await page.locator("#bench-myopia-3-picture").click();
    expect((await waiting).suggestedFilename()).toBe("limit-myopia-3.png");
    const csv = page.waitForEvent("download");
    await page.locator("#bench-myopia-3-csv").click();
    expect(await readFile(await (await csv).path(), "utf8")).toContain(
      `"truePositive","${counts}","204"`,
    );
    const plain = await browser.newContext({ javaScriptEnabled: false, offline: true });
    const still = await plain.newPage();
    await still.goto(page.url().split("#")[0]!);
    expect(await still.locator("#bench-myopia-3-truePositive").textContent()).toBe("204");
    expect(await still.locator("#bench-myopia-3-controls").isVisible()).toBe(false);
    await plain.close();
    await page.goto(page.url().split("#")[0]!);
  });

  it("passes the accessibility rules of axe, in light and dark", async () => {
    expect(await axeFindings(page)).toEqual([]);
  });

  it("fits a phone and prints every section", async () => {
    await page.setViewportSize({ width: 375, height: 800 });
    const overflow = await page.evaluate(() => {
      // biome-ignore lint/suspicious/noExplicitAny: the browser's own globals are not typed here
      const { document } = globalThis as any;
      return document.documentElement.scrollWidth - document.documentElement.clientWidth;
    });
    expect(overflow).toBeLessThanOrEqual(0);
    const pdf = await page.pdf({ format: "A4" });
    expect(pdf.length).toBeGreaterThan(50_000);
    const text = runProgram("pdftotext", ["-raw", "-", "-"], { input: pdf });
    const printed = text.replace(/\s+/g, " ");
    const titles = await page.$$eval("h2", (all) => all.map(({ textContent }) => textContent));
    expect(titles.length).toBe(12);
    expect(titles.filter((title) => !printed.includes(title!))).toEqual([]);
    expect(complaints).toEqual([]);
  });
});
