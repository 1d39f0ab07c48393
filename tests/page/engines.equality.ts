import { execFileSync } from "node:child_process";
import { mkdtempSync, readFileSync, rmSync, writeFileSync } from "node:fs";
import { tmpdir } from "node:os";
import { join, resolve } from "node:path";
import { type Browser, chromium, type Page } from "playwright-core";
import { afterAll, beforeAll, describe, expect, it } from "vitest";
import { type Firefox, startFirefox } from "../builders/firefox.js";
import { studyInFirefox } from "../builders/firefoxStudy.js";
import {
  askStudy,
  dataStudies,
  dataStudy,
  inventedStudy,
  type PageStudy,
  startWorker,
} from "../builders/pageStudies.js";
import { pathOf, runProgram } from "../builders/program.js";
import { differencesBetween } from "./differences.js";

// Every engine against the installed Node.js, of the same files: three protocols of data/ and the invented
// cohorts. The table is committed; `npm run equality` makes it again. Other releases of Node.js come from npm.
const cohorts = Number(process.env.COHORTS ?? 50);
const releases = (process.env.RELEASES ?? "22.23.5,24.22.1").split(",").filter((one) => one !== "");
const address = `file://${resolve("out/pages/study.html")}`;

describe("the same study in every engine", () => {
  let browser: Browser;
  let page: Page;
  let firefox: Firefox;
  let folder: string;
  let studies: PageStudy[];
  const engines: { name: string; results: (study: PageStudy, at: number) => Promise<unknown> }[] =
    [];

  beforeAll(async () => {
    folder = mkdtempSync(join(tmpdir(), "meridional-equality-"));
    const invented = Array.from({ length: cohorts }, (_, cohort) => inventedStudy(cohort));
    studies = await Promise.all([...dataStudies.map((one) => dataStudy(one)), ...invented]);
    writeFileSync(join(folder, "studies.json"), JSON.stringify(studies));
    for (const release of ["", ...releases]) engines.push(nodeEngine(release));
    browser = await chromium.launch({
      executablePath: pathOf("chromium"),
      args: ["--no-sandbox", "--disable-gpu", "--disable-background-networking"],
    });
    page = await browser.newPage();
    await page.goto(address);
    await page.evaluate(startWorker);
    engines.push({
      name: `Chromium ${browser.version().split(".")[0]}`,
      results: async (study) => JSON.parse(await page.evaluate(askStudy, study)),
    });
    firefox = await startFirefox();
    const version = /[\d]+/.exec(runProgram("firefox-esr", ["--version"]))?.[0];
    engines.push({
      name: `Firefox ESR ${version}`,
      results: (study) => studyInFirefox(firefox, study),
    });
  });
  afterAll(async () => {
    await firefox?.end();
    await browser?.close();
    rmSync(folder, { recursive: true, force: true });
  });

  /** All studies at once, when the first is asked for. */
  function nodeEngine(release: string) {
    const program =
      release === ""
        ? process.execPath
        : join(folder, release, `node_modules/node-linux-${process.arch}/bin/node`);
    let found: unknown[] | undefined;
    const run = () => {
      if (release !== "") {
        execFileSync("npm", [
          ...["install", "--silent", "--no-audit", "--no-fund", "--ignore-scripts"],
          ...["--prefix", join(folder, release), `node-linux-${process.arch}@${release}`],
        ]);
      }
      const [given, to] = [join(folder, "studies.json"), join(folder, `results-${release}.json`)];
      execFileSync(program, ["tests/page/resultsOf.mjs", given, to]);
      return JSON.parse(readFileSync(to, "utf8"));
    };
    const name = `Node.js ${(release || process.versions.node).split(".")[0]}`;
    return {
      name,
      results: async (_: PageStudy, at: number) => {
        found ??= run();
        return found?.[at];
      },
    };
  }

  it("gives the same integers, texts and decisions, and numbers within 1e-12", async () => {
    const [base, ...others] = engines;
    const rows = [];
    for (const { name, results } of others) {
      const sums = new Map<
        string,
        { numbers: number; differ: number; most: number; path: string }
      >();
      const wrong: string[] = [];
      for (const [at, study] of studies.entries()) {
        const found = differencesBetween(await base.results(study, at), await results(study, at));
        wrong.push(...found.others.map((one) => `${study.name}: ${one}`));
        const key = at < dataStudies.length ? study.name : "invented cohorts";
        const sum = sums.get(key) ?? { numbers: 0, differ: 0, most: 0, path: "" };
        const [most] = found.numbers;
        sums.set(key, {
          numbers: sum.numbers + found.count,
          differ: sum.differ + found.numbers.length,
          ...(most !== undefined && most.distance > sum.most
            ? { most: most.distance, path: most.path }
            : { most: sum.most, path: sum.path }),
        });
      }
      rows.push({ engine: name, others: wrong, studies: Object.fromEntries(sums) });
      console.log(JSON.stringify(rows.at(-1)));
    }
    const table = { against: base.name, cohorts, engines: rows };
    writeFileSync("tests/page/equality.json", `${JSON.stringify(table, null, 2)}\n`);
    for (const { engine, others: wrong, studies: sums } of rows) {
      expect(wrong, engine).toEqual([]);
      for (const { most } of Object.values(sums)) expect(most).toBeLessThanOrEqual(1e-12);
    }
  });
});
