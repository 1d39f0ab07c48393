import { readFile } from "node:fs/promises";
import {
  columnsFindings,
  columnsReadings,
  firstProtocol,
} from "../../src/notebook/folder/firstStudy.js";
import { inventedData } from "../../src/notebook/folder/inventedData.js";

/** A study as a page is given it: the protocol, and its files by name. */
export interface PageStudy {
  readonly name: string;
  readonly protocol: object;
  readonly files: { readonly [name: string]: string };
}

/** The protocols of data/ that stand in a page's table of comparisons. */
export const dataStudies = [
  ["children", "protocol.json", ["children.csv"]],
  ["demo", "protocol.json", ["invented-readings.csv", "invented-findings.csv"]],
  ["demo", "rule-protocol.json", ["invented-readings.csv", "invented-findings.csv"]],
] as const;

export async function dataStudy([set, name, files]: (typeof dataStudies)[number]) {
  const texts = await Promise.all(
    ["columns.json", ...files].map(
      async (file) => [file, await readFile(`data/${set}/${file}`, "utf8")] as const,
    ),
  );
  const protocol = JSON.parse(await readFile(`data/${set}/${name}`, "utf8"));
  return { name: `${set}/${name}`, protocol, files: Object.fromEntries(texts) } as PageStudy;
}

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

/** An invented cohort, one of five ways of being examined, with a study of it. */
export async function inventedStudy(cohort: number): Promise<PageStudy> {
  const scenario = scenarios[cohort % scenarios.length];
  // where few are examined, more children
  const children = scenario === "complete" ? 150 + 7 * cohort : 900 + 20 * cohort;
  const data = await inventedData({ children, seed: 1 + cohort, scenario });
  return {
    name: `cohort ${cohort}, ${scenario}`,
    protocol: {
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
    },
    files: {
      "data/invented-readings.csv": data.readings,
      "data/invented-findings.csv": data.findings,
      "columns-readings.json": JSON.stringify(columnsReadings),
      "columns-findings.json": JSON.stringify(columnsFindings),
    },
  };
}

/** In a page: a worker of its own from the text that the page brings along. */
export async function startWorker(): Promise<void> {
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

/** In a page with that worker: one study; the text of its result.json. */
export function askStudy({ protocol, files }: Omit<PageStudy, "name">): Promise<string> {
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
    // an earlier study is another one
    const task = { task: "study", protocol, files: put, forget: ["/out"] };
    worker.postMessage({ kind: "task", id: 1, task });
  });
}
