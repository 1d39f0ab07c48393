import { mkdir, mkdtemp, rm, writeFile } from "node:fs/promises";
import { tmpdir } from "node:os";
import { join, resolve } from "node:path";
import { type Browser, chromium, type Page } from "playwright-core";
import { afterAll, beforeAll, describe, expect, it } from "vitest";
import {
  columnsFindings,
  columnsReadings,
  firstProtocol,
} from "../../src/notebook/folder/firstStudy.js";
import { inventedData } from "../../src/notebook/folder/inventedData.js";
import { defineProtocol } from "../../src/protocol/index.js";
import { runStudy } from "../../src/study/index.js";
import { pathOf } from "../builders/program.js";
import { differencesBetween } from "./differences.js";

const cohorts = 50;
const scenarios = [
  "complete",
  "programme",
  "random-passes",
  "self-presenting-passes",
  "disease-follow-up",
] as const;
const counted = [
  { unit: "eye", eye: "right" },
  { unit: "eye", eye: "both" },
  { unit: "child", eye: "worse" },
  { unit: "child", eye: "random" },
];

// The worker that the page brings along, asked in Chromium itself; nothing is drawn.
describe("the page's worker in Chromium, against Node.js", () => {
  let browser: Browser;
  let page: Page;
  let folder: string;

  beforeAll(async () => {
    folder = await mkdtemp(join(tmpdir(), "meridional-cohorts-"));
    browser = await chromium.launch({
      executablePath: pathOf("chromium"),
      args: ["--no-sandbox", "--disable-gpu", "--disable-background-networking"],
    });
    page = await browser.newPage();
    await page.goto(`file://${resolve("out/pages/study.html")}`);
    await page.evaluate(startWorker);
  });
  afterAll(async () => {
    await browser?.close();
    await rm(folder, { recursive: true, force: true });
  });

  it(`gives the same counts, texts and decisions for ${cohorts} invented cohorts, and numbers within 1e-12`, async () => {
    const worst: { readonly path: string; readonly distance: number }[] = [];
    let compared = 0;
    for (let cohort = 0; cohort < cohorts; cohort++) {
      const scenario = scenarios[cohort % scenarios.length];
      // where few are examined, more children
      const children = scenario === "complete" ? 150 + 7 * cohort : 900 + 20 * cohort;
      const data = await inventedData({ children, seed: 1 + cohort, scenario });
      const protocol = {
        ...firstProtocol,
        ...counted[cohort % counted.length],
        audience: cohort % 2 === 0 ? "public" : "journal",
        verification: scenario === "complete" ? "complete" : "partial",
        conditions: firstProtocol.conditions.map((condition) => ({
          ...condition,
          ...(cohort % 3 === 0 ? { choose: { criterion: "youden" } } : {}),
        })),
        subgroups: [{ by: "age", edgesYears: [4, 5] }],
        seed: cohort,
        replicates: 100,
        outputs: ["markdown"],
      };
      const files = {
        "data/invented-readings.csv": data.readings,
        "data/invented-findings.csv": data.findings,
        "columns-readings.json": JSON.stringify(columnsReadings),
        "columns-findings.json": JSON.stringify(columnsFindings),
      };
      await mkdir(join(folder, "data"), { recursive: true });
      for (const [name, text] of Object.entries(files)) await writeFile(join(folder, name), text);
      const result = await runStudy(defineProtocol(protocol), { folder });
      const seen = await page.evaluate(askStudy, { protocol, files });
      const { count, others, numbers } = differencesBetween(
        JSON.parse(JSON.stringify(result)),
        JSON.parse(seen),
      );
      compared += count;
      expect(others, `cohort ${cohort}, ${scenario}`).toEqual([]);
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

/** In the page: a worker of its own from the text that the page brings along. */
async function startWorker(): Promise<void> {
  // biome-ignore lint/suspicious/noExplicitAny: the browser's own globals are not typed here
  const here = globalThis as any;
  const unpacked = async (id: string) => {
    const text = here.document.getElementById(id).textContent;
    const bytes = Uint8Array.from(here.atob(text), (sign: string) => sign.charCodeAt(0));
    const stream = new Blob([bytes]).stream().pipeThrough(new DecompressionStream("gzip"));
    return new Uint8Array(await new here.Response(stream).arrayBuffer());
  };
  const worker = new here.Worker(here.URL.createObjectURL(new Blob([await unpacked("worker")])));
  worker.postMessage({
    kind: "task",
    id: 0,
    task: {
      task: "begin",
      packageFiles: [
        ["src/figures/fonts/SourceSans3-Regular.ttf", await unpacked("font-regular")],
        ["src/figures/fonts/SourceSans3-Semibold.ttf", await unpacked("font-semibold")],
        ["package.json", await unpacked("version")],
      ],
    },
  });
  here.testWorker = worker;
}

/** In the page: one study; the text of its result.json. */
function askStudy({
  protocol,
  files,
}: {
  readonly protocol: object;
  readonly files: { readonly [name: string]: string };
}): Promise<string> {
  // biome-ignore lint/suspicious/noExplicitAny: the browser's own globals are not typed here
  const { testWorker: worker } = globalThis as any;
  return new Promise((resolve, reject) => {
    // biome-ignore lint/suspicious/noExplicitAny: a message of the worker
    worker.onmessage = ({ data }: any) => {
      if (data.kind === "draw") {
        worker.postMessage({ kind: "drawn", picture: data.picture, png: new Uint8Array(33) });
      } else if (data.kind === "failed" && data.id === 1) reject(new Error(data.message));
      else if (data.kind === "done" && data.id === 1) {
        const [, bytes] = data.files.find(([path]: [string]) => path.endsWith("/result.json"));
        resolve(new TextDecoder().decode(bytes));
      }
    };
    const encoder = new TextEncoder();
    const put = Object.entries(files).map(([name, text]) => [
      `/my-study/${name}`,
      encoder.encode(text),
    ]);
    // an earlier cohort is another study
    const forget = ["/out"];
    const task = { task: "study", protocol, files: put, forget };
    worker.postMessage({ kind: "task", id: 1, task });
  });
}
