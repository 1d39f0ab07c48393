import { mkdtemp, readFile, rm } from "node:fs/promises";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { parse } from "csv-parse/sync";
import { afterAll, beforeAll, expect, it } from "vitest";
import { defineProtocol } from "../../src/protocol/index.js";
import { runStudy, studyReport } from "../../src/study/index.js";
import { contradictedForPublic, contradictedStart } from "../../src/study/run/contradictedRule.js";
import { writeCohort } from "../disclosure/team/cohort.js";

// Invented children of whom no decision is recorded; exams say that they were referred.
let folder: string;
let protocol: Parameters<typeof defineProtocol>[0] & object;
beforeAll(async () => {
  folder = await mkdtemp(join(tmpdir(), "meridional-contradicted-"));
  protocol = (await writeCohort(3, folder, ["markdown"])).protocol;
});
afterAll(() => rm(folder, { recursive: true }));

const sentenceUnder = async (limit: number) => {
  const rule = { quantity: "M", relation: ">=", limit };
  const changed = { ...protocol, audience: "journal", programme: { referWhen: rule } };
  const result = await runStudy(defineProtocol(changed), { folder });
  const said = result.limitations.find((one) => one.startsWith(contradictedStart));
  const [first] = studyReport(result).sections;
  const shown = first!.blocks.flatMap((block) =>
    block.kind === "paragraph" && block.emphasis === "caution" ? [block.text] : [],
  );
  return { said, shown };
};

it("says on the first page how many were examined as referred whom the declared rule would have passed", async () => {
  // nobody reaches +15 D: every child examined as referred contradicts the rule, if all its eyes were read
  const { said, shown } = await sentenceUnder(15);
  const [, some, all] = /(\d+) children of (\d+) examined as referred/.exec(said!)!;
  const rowsIn = async (name: string) =>
    parse(await readFile(join(folder, name), "utf8"), { columns: true }) as {
      readonly [column: string]: string;
    }[];
  const sent = new Set(
    (await rowsIn("findings.csv")).flatMap(({ why, subject }) =>
      why === "referred" ? subject! : [],
    ),
  );
  const last = new Map(
    (await rowsIn("readings.csv")).map(
      ({ subject, eye, sphere }) => [`${subject} ${eye}`, { subject: subject!, sphere }] as const,
    ),
  );
  const screened = new Set([...last.values()].map(({ subject }) => subject));
  const unread = new Set(
    [...last.values()].flatMap(({ subject, sphere }) => (sphere === "" ? subject : [])),
  );
  const read = [...sent].filter((child) => screened.has(child) && !unread.has(child));
  expect(read.length).toBeGreaterThan(5);
  expect(Number(some)).toBe(read.length);
  expect(Number(all)).toBeGreaterThanOrEqual(read.length);
  expect(shown).toContain(said);
});

it("says nothing where the rule refers all of them", async () => {
  const { said, shown } = await sentenceUnder(-15);
  expect(said).toBeUndefined();
  expect(shown).toEqual([]);
});

it("says to the public the same words with and without a contradiction, and none where decisions are recorded", async () => {
  const wordsUnder = async (programme: object | undefined) => {
    const changed = { ...protocol, audience: "public", programme };
    const { sections } = studyReport(await runStudy(defineProtocol(changed), { folder }));
    const told = (id: string) => JSON.stringify(sections.find((one) => one.id === id));
    return ["answer", "limitations"].map((id) => told(id).includes(contradictedForPublic));
  };
  const rule = (limit: number) => ({ referWhen: { quantity: "M", relation: ">=", limit } });
  expect(await wordsUnder(rule(15))).toEqual([true, true]);
  expect(await wordsUnder(rule(-15))).toEqual([true, true]);
  expect(await wordsUnder(undefined)).toEqual([false, false]);
});
