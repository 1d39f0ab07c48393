import { mkdtemp, readdir, readFile, rm, writeFile } from "node:fs/promises";
import { tmpdir } from "node:os";
import { join, resolve } from "node:path";
import { unzipSync } from "fflate";
import { type Browser, chromium, type Page } from "playwright-core";
import { afterAll, beforeAll, describe, expect, it } from "vitest";
import { defineProtocol } from "../../src/protocol/index.js";
import { runStudy, type StudyResult, summaryLines, writeReport } from "../../src/study/index.js";
import { pathOf } from "../builders/program.js";
import { differencesBetween } from "./differences.js";

// Engines differ in the last digits of exp, log and pow. Counts, texts and decisions have to be the same,
// numbers within 1e-12 (of the number, where it is above 1).
const within = 1e-12;
/** Results of searches that end when they are near enough, with what they are within. */
const iterative: readonly (readonly [pattern: RegExp, within: number])[] = [];

describe("the page in Chromium, against Node.js", () => {
  let browser: Browser;
  let page: Page;
  let folder: string;

  beforeAll(async () => {
    folder = await mkdtemp(join(tmpdir(), "meridional-browser-"));
    browser = await chromium.launch({
      executablePath: pathOf("chromium"),
      args: ["--no-sandbox", "--disable-gpu", "--disable-background-networking"],
    });
  });
  afterAll(async () => {
    await browser?.close();
    await rm(folder, { recursive: true, force: true });
  });

  it.each([
    ["children", "protocol.json", ["children.csv"]],
    ["demo", "protocol.json", ["invented-readings.csv", "invented-findings.csv"]],
    ["demo", "rule-protocol.json", ["invented-readings.csv", "invented-findings.csv"]],
  ])("gives the result of data/%s/%s", async (set, name, files) => {
    const json = JSON.parse(await readFile(`data/${set}/${name}`, "utf8"));
    const result = await runStudy(defineProtocol(json), { folder: `data/${set}` });
    page = await browser.newPage();
    page.setDefaultTimeout(400_000);
    await page.goto(`file://${resolve("out/pages/study.html")}`);
    await page
      .getByLabel("Files of the study")
      .setInputFiles([name, "columns.json", ...files].map((file) => `data/${set}/${file}`));
    await page.getByRole("button", { name: "Go on to the run" }).click();
    await page.getByRole("button", { name: "Run the study" }).click();
    await page.getByRole("heading", { level: 2, name: "Take the report" }).waitFor();
    expect(await page.locator(".summary li").allTextContents()).toEqual(summaryLines(result));
    const isPublic = result.protocol.audience === "public";
    const [download] = await Promise.all([
      page.waitForEvent("download"),
      page
        .getByRole("button", { name: isPublic ? "Save the exact result" : "Save result.json" })
        .click(),
    ]);
    const path = join(folder, download.suggestedFilename());
    await download.saveAs(path);
    const text = isPublic ? await entryOf(path, "result.json") : await readFile(path, "utf8");
    const { count, others, numbers } = differencesBetween(
      JSON.parse(JSON.stringify(result)),
      JSON.parse(text),
    );
    expect(count).toBeGreaterThan(3000);
    expect(others).toEqual([]);
    const limit = (at: string) => iterative.find(([pattern]) => pattern.test(at))?.[1] ?? within;
    expect(numbers.filter(({ path: at, distance }) => !(distance <= limit(at)))).toEqual([]);
    if (set === "children") {
      // the limit moves in the page's report, though no script runs there
      const frame = page.frameLocator('iframe[title="The report"]');
      const count = frame.locator("#bench-myopia-3-truePositive");
      expect(await count.textContent()).toBe("204");
      await frame.locator("#bench-myopia-3-limit").press("ArrowRight");
      expect(await count.textContent()).not.toBe("204");
      await sameFiles(result);
    }
    await page.close();
  });

  /** Texts, tables and drawings are the same files; the page's report.html but for its script. */
  async function sameFiles(result: StudyResult): Promise<void> {
    const here = join(folder, "report");
    await writeReport(result, here);
    const [download] = await Promise.all([
      page.waitForEvent("download"),
      page.getByRole("button", { name: "Save everything as one ZIP" }).click(),
    ]);
    const path = join(folder, "report.zip");
    await download.saveAs(path);
    const there = unzipSync(await readFile(path));
    const names = (await readdir(here, { recursive: true }))
      .filter((name) => /\.(md|csv|svg)$/.test(name))
      .sort();
    expect(names.length).toBeGreaterThan(20);
    expect(
      Object.keys(there)
        .filter((name) => /\.(md|csv|svg)$/.test(name))
        .sort(),
    ).toEqual(names);
    const text = (bytes: Uint8Array) => new TextDecoder().decode(bytes);
    // a table as CSV has its numbers whole
    const cells = (table: string) =>
      table
        .split(/[,\n]/)
        .map((cell) => (/^-?\d+\.\d+(e-?\d+)?$/.test(cell) ? Number(cell) : cell));
    for (const name of names) {
      const own = await readFile(join(here, name), "utf8");
      if (name.endsWith(".csv")) {
        const { others, numbers } = differencesBetween(cells(own), cells(text(there[name])));
        expect(others, name).toEqual([]);
        expect(numbers.filter(({ distance }) => !(distance <= within))).toEqual([]);
      } else expect(text(there[name]), name).toBe(own);
    }
    // the script's code is as each build writes it, and its hash with it; what it starts from is the same
    const apart = (html: string) => [
      html.slice(0, html.lastIndexOf("<script>")).replace(/'sha256-[^']+'/, ""),
      /^const benches = (.*);$/m.exec(html)?.[1],
    ];
    const [own, data] = apart(await readFile(join(here, "report.html"), "utf8"));
    expect(data?.length).toBeGreaterThan(1000);
    expect(apart(text(there["report.html"]))).toEqual([own, data]);
    // a saved report works: its limit can be moved
    const saved = await browser.newPage();
    const complaints: string[] = [];
    saved.on("console", (message) => complaints.push(message.text()));
    saved.on("pageerror", (error) => complaints.push(String(error)));
    await writeFile(join(folder, "saved.html"), there["report.html"]);
    await saved.goto(`file://${join(folder, "saved.html")}`);
    expect(await saved.locator("#bench-myopia-3-truePositive").textContent()).toBe("204");
    await saved.locator("#bench-myopia-3-limit").press("ArrowRight");
    expect(await saved.locator("#bench-myopia-3-truePositive").textContent()).not.toBe("204");
    expect(complaints).toEqual([]);
    await saved.close();
  }
});

async function entryOf(zip: string, name: string): Promise<string> {
  return new TextDecoder().decode(unzipSync(await readFile(zip))[name]);
}
