// A published rule that asks for what the exam does not record: said, and nobody is called absent who was there.
import { mkdtemp, rm, writeFile } from "node:fs/promises";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { afterAll, beforeAll, describe, expect, it } from "vitest";
import { defineProtocol } from "../../src/protocol/index.js";
import { runStudy, type StudyResult, studyReport, summaryLines } from "../../src/study/index.js";

const measured = { sphere: "sphere", cylinder: "cylinder", axis: "axis" };
const children = 120;

/** Every child is examined; every third has the condition. */
async function studyOf(folder: string, opacity: boolean): Promise<StudyResult> {
  const rows = (of: (child: number) => string) =>
    Array.from({ length: children }, (_, child) =>
      ["right", "left"].map((eye) => `c${child},${eye},${40 + (child % 8)},${of(child)}`),
    ).flat();
  const head = "subject,eye,months,sphere,cylinder,axis";
  const sphere = (child: number) => (child % 3 === 0 ? 5 : 1);
  await writeFile(
    join(folder, "readings.csv"),
    [head, ...rows((child) => `${sphere(child) - 0.5 - (child % 5) / 4},-0.25,90`)].join("\n"),
  );
  await writeFile(
    join(folder, "findings.csv"),
    [`${head},opacity`, ...rows((child) => `${sphere(child)},-0.25,90,no`)].join("\n"),
  );
  const columns = {
    kind: "columns",
    version: 1,
    columns: { subject: "subject", eye: "eye", age: "months" },
    age: "months",
    readings: [
      {
        ...{ instrument: "own", cycloplegia: "none", correction: "none", cylinder: "minus" },
        ...{ whenEmpty: "unreadable", columns: measured },
      },
    ],
    findings: [
      {
        ...{ cycloplegia: "full", cylinder: "minus" },
        columns: opacity ? { ...measured, mediaOpacity: "opacity" } : measured,
      },
    ],
  };
  const protocol = defineProtocol({
    kind: "protocol",
    version: 1,
    title: "Invented",
    question: "Who is decided?",
    audience: "journal",
    sources: {
      readings: { file: "readings.csv", columns },
      findings: { file: "findings.csv", columns },
    },
    indexTest: { instrument: "own", description: "an invented instrument" },
    referenceStandard: { description: "an invented exam" },
    unit: "child",
    eye: "worse",
    conditions: [
      {
        id: "factors",
        title: "Risk factors",
        definition: "published",
        role: "confirmatory",
        target: {
          published: "aapos-2013",
          choices: {
            hyperopiaQuantity: "mostPositiveMeridian",
            myopiaQuantity: "mostNegativeMeridian",
            anisometropiaQuantity: "M",
          },
        },
        referWhen: { quantity: "M", relation: ">=", limit: 2.5 },
      },
    ],
    undecidable: "refer",
    verification: "complete",
    sampling: "cohort",
    acceptableDifference: 0.5,
    seed: 1,
    replicates: 20,
  });
  return runStudy(protocol, { folder });
}

describe("a published rule that asks for what the exam does not record", () => {
  let folder: string;
  let without: StudyResult;
  let known: StudyResult;
  beforeAll(async () => {
    folder = await mkdtemp(join(tmpdir(), "meridional-not-recorded-"));
    without = await studyOf(folder, false);
    known = await studyOf(folder, true);
  });
  afterAll(() => rm(folder, { recursive: true }));

  it("is told with its words, and who was examined is not called absent", () => {
    const [condition] = without.conditions;
    expect(condition!.rules).toMatchObject({
      conditionUndecided: 80,
      notRecorded: { refer: [], condition: ["media opacity"] },
    });
    const words = without.limitations.join("\n");
    expect(words).toContain("the exam records nothing of media opacity");
    expect(words).toContain(
      "nobody is known to be without the condition, so specificity cannot be",
    );
    expect(words).toContain(
      "80 of 120 screened have no finding that decides the condition (80 of them were examined)",
    );
    expect(words).not.toMatch(/not come \d|interval of specificity is wide/);
  });

  it.each(["journal", "public"] as const)("stands on the first page for the %s", (audience) => {
    const { sections } = studyReport({ ...without, protocol: { ...without.protocol, audience } });
    const first = sections[0]!.blocks.flatMap((block) =>
      block.kind === "paragraph" ? [block.text] : [],
    );
    expect(first.join("\n")).toContain("the exam records nothing of media opacity");
  });

  it("is no word where the column is there", () => {
    expect(known.conditions[0]!.rules).toMatchObject({
      conditionUndecided: 0,
      notRecorded: { refer: [], condition: [] },
    });
    expect(known.limitations.join("\n")).not.toContain("records nothing");
    expect(summaryLines(known).join("\n")).toContain("specificity 100.0 %");
  });
});
