import { mkdtemp, rm, writeFile } from "node:fs/promises";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { afterAll, beforeAll, expect, it } from "vitest";
import { createRandom } from "../../src/inference/index.js";
import { defineProtocol } from "../../src/protocol/index.js";
import { runStudy, studyReport } from "../../src/study/index.js";

// Invented: 240 children, equivalents alone, every child examined but the last `without`.
const n = 240;
let folder: string;
beforeAll(async () => {
  folder = await mkdtemp(join(tmpdir(), "meridional-everybody-"));
});
afterAll(() => rm(folder, { recursive: true }));

const columns = {
  kind: "columns",
  version: 1,
  audience: "journal",
  columns: { subject: "child" },
  readings: [{ cycloplegia: "none", columns: { eye: "eye", statedEquivalent: "se" } }],
  findings: [{ columns: { eye: "eye", statedEquivalent: "se" } }],
} as const;

async function firstPage(without: number, audience: "journal" | "public"): Promise<string[]> {
  const random = createRandom(5);
  const findings = ["child,eye,se"];
  const readings = ["child,eye,se"];
  for (let child = 1; child <= n; child++) {
    const M = Math.round(8 * (random.normal() - 0.5)) / 8;
    if (child <= n - without) findings.push(`${child},R,${M}`);
    readings.push(`${child},R,${M + Math.round(3 * random.normal()) / 8}`);
  }
  await writeFile(join(folder, "readings.csv"), readings.join("\n"));
  await writeFile(join(folder, "findings.csv"), findings.join("\n"));
  await writeFile(join(folder, "columns.json"), JSON.stringify(columns));
  const limit = { quantity: "M", relation: "<=", limit: -0.5 } as const;
  const protocol = defineProtocol({
    kind: "protocol",
    version: 1,
    title: "Everybody",
    question: "Who was examined?",
    audience,
    sources: {
      readings: { file: "readings.csv", columns: "columns.json" },
      findings: { file: "findings.csv", columns: "columns.json" },
    },
    indexTest: { instrument: "instrument", cycloplegia: "none", description: "a reading" },
    referenceStandard: { equivalent: "stated", description: "an exam" },
    unit: "child",
    eye: "right",
    conditions: [
      {
        id: "myopia",
        title: "Myopia",
        definition: "own",
        role: "confirmatory",
        target: limit,
        referWhen: limit,
      },
    ],
    undecidable: "exclude",
    verification: "complete",
    sampling: "cohort",
    acceptableDifference: 0.5,
    level: 0.95,
    seed: 1,
    replicates: 0,
  });
  const { sections } = studyReport(await runStudy(protocol, { folder }));
  return sections[0]!.blocks.flatMap((block) =>
    block.kind === "paragraph" && block.text.includes("everybody was examined") ? [block.text] : [],
  );
}

it("the first page says where the files say otherwise", async () => {
  expect(await firstPage(100, "journal")).toEqual([
    "The protocol says that everybody was examined, yet 100 of 240 children screened (41.7 %) have no finding: the rates are of the others.",
  ]);
  expect(await firstPage(0, "journal")).toEqual([]);
});

it("to the public in the flow's coarse counts, and nothing of 0 to 10", async () => {
  // the range of all is the sum of what the cells allow
  expect((await firstPage(100, "public")).join()).toMatch(
    /^The protocol says that everybody was examined, yet about 100 of 2\d\d to 2\d\d children have no finding: the rates are of the others\.$/,
  );
  expect(await firstPage(5, "public")).toEqual([]);
  expect(await firstPage(0, "public")).toEqual([]);
});
