// Two samples of invented children: files of each and of both, and the protocol that reads them.
import { mkdtemp, rm, writeFile } from "node:fs/promises";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { afterAll, beforeAll } from "vitest";
import type { Findings, Readings } from "../../src/cohort/index.js";
import { defineProtocol } from "../../src/protocol/index.js";
import { simulateCohort } from "../../src/simulation/index.js";
import { runStudy } from "../../src/study/index.js";

const columns = {
  kind: "columns",
  version: 1,
  columns: { subject: "subject", eye: "eye" },
  readings: [
    {
      own: { year: "year" },
      instrument: "own",
      cycloplegia: "none",
      correction: "none",
      cylinder: "minus",
      whenEmpty: "unreadable",
      columns: { sphere: "sphere", cylinder: "cylinder", axis: "axis" },
    },
  ],
  findings: [
    {
      cycloplegia: "full",
      cylinder: "minus",
      columns: { sphere: "sphere", cylinder: "cylinder", axis: "axis" },
    },
  ],
};
const header = "subject,eye,year,sphere,cylinder,axis";

/** The rows of right and left eyes as a file has them. */
export function linesOf(data: Readings | Findings, prefix: string, year: string): string[] {
  return Array.from({ length: data.n }, (_, row) => {
    const [sphere, cylinder, axis] = [data.sphere[row]!, data.cylinder[row]!, data.axis[row]!];
    const numbers = Number.isNaN(sphere)
      ? ",,"
      : `${sphere},${cylinder},${Number.isNaN(axis) ? "" : axis}`;
    const child = data.subject.labels[data.subject.codes[row]!];
    const eye = data.eye.codes[row] === 0 ? "right" : "left";
    return `${prefix}${child},${eye},${year},${numbers}`;
  });
}

let folder: string;
export let sampled: Awaited<ReturnType<typeof simulateCohort>>[];
export const write = (name: string, lines: readonly string[]) =>
  writeFile(join(folder, name), [header, ...lines].join("\n"));
beforeAll(async () => {
  folder = await mkdtemp(join(tmpdir(), "meridional-samples-"));
  const simulate = (seed: number, children: number) =>
    simulateCohort({ children, seed, scenario: "complete" });
  sampled = [await simulate(1, 1200), await simulate(2, 1500)];
  for (const kind of ["readings", "findings"] as const) {
    const [first, second] = sampled.map((one, at) =>
      linesOf(one[kind], at === 0 ? "a-" : "b-", at === 0 ? "2024" : "2025"),
    );
    await write(`${kind}-first.csv`, first!);
    await write(`${kind}-second.csv`, second!);
    await write(`${kind}-both.csv`, [...first!, ...second!]);
  }
});
afterAll(() => rm(folder, { recursive: true }));

export const source = (kind: string, which: string) => ({ file: `${kind}-${which}.csv`, columns });
export const protocolOf = (which: string, samples: object | undefined, more: object = {}) =>
  defineProtocol({
    kind: "protocol",
    version: 1,
    title: "Invented",
    question: "Does a chosen limit hold in other children?",
    audience: "journal",
    sources: { readings: source("readings", which), findings: source("findings", which) },
    ...(samples === undefined ? {} : { samples }),
    indexTest: { instrument: "own", description: "an invented instrument" },
    referenceStandard: { description: "an invented exam" },
    unit: "eye",
    eye: "right",
    conditions: [
      {
        id: "plus",
        title: "Plus",
        definition: "own",
        role: "confirmatory",
        target: { quantity: "M", relation: ">=", limit: 2 },
        referWhen: { quantity: "M", relation: ">=", limit: 1.5 },
        choose: { criterion: "youden" },
      },
    ],
    criteria: { sensitivityAtLeast: 0.5 },
    undecidable: "refer",
    verification: "complete",
    sampling: "cohort",
    acceptableDifference: 0.5,
    seed: 1,
    replicates: 20,
    ...more,
  });
export const byYear = { by: "year", development: ["2024"], validation: ["2025"] };
export const byFiles = {
  validation: { readings: source("readings", "second"), findings: source("findings", "second") },
};
export const run = (which: string, samples: object | undefined, more?: object) =>
  runStudy(protocolOf(which, samples, more), { folder });

/** Counts of right eyes at a limit, row by row; an eye without a number counts as referred. */
export function countsAt({ readings, findings }: (typeof sampled)[number], limit: number) {
  const exam = new Map<number, number>();
  for (let row = 0; row < findings.n; row++) {
    if (findings.eye.codes[row] === 0) {
      exam.set(findings.subject.codes[row]!, findings.sphere[row]! + findings.cylinder[row]! / 2);
    }
  }
  const counts = { truePositive: 0, falsePositive: 0, falseNegative: 0, trueNegative: 0 };
  const seen = new Set<number>();
  for (let row = 0; row < readings.n; row++) {
    const child = readings.subject.codes[row]!;
    const found = exam.get(child);
    if (
      readings.eye.codes[row] !== 0 ||
      seen.has(child) ||
      found === undefined ||
      Number.isNaN(found)
    )
      continue;
    seen.add(child);
    const M = readings.sphere[row]! + readings.cylinder[row]! / 2;
    const refers = Number.isNaN(M) || M >= limit;
    if (found >= 2) counts[refers ? "truePositive" : "falseNegative"]++;
    else counts[refers ? "falsePositive" : "trueNegative"]++;
  }
  return counts;
}
