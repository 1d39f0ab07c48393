// Ids that match in part only are a fault of the files, loud in every study, until the mapping accepts them.
import { mkdtempSync, rmSync, writeFileSync } from "node:fs";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { afterAll, expect, it } from "vitest";
import type { LoudFault } from "../../src/cohort/index.js";
import { defineProtocol } from "../../src/protocol/index.js";
import { draftStudy, runStudy } from "../../src/study/index.js";

const folder = mkdtempSync(join(tmpdir(), "ids-"));
afterAll(() => rmSync(folder, { recursive: true }));

const children = Array.from({ length: 60 }, (_, at) => at);
const sphere = (at: number) => (((at * 7) % 17) - 8) / 4;
/** 20 of the 60 findings have padded ids. */
const id = (at: number, padded: boolean) =>
  padded && at < 20 ? `00${1000 + at}` : String(1000 + at);
for (const kind of ["readings", "findings"]) {
  const rows = children.map((at) => `${id(at, kind === "findings")},right,${sphere(at)},-0.25,90`);
  writeFileSync(
    join(folder, `${kind}.csv`),
    `subject,eye,sphere,cylinder,axis\n${rows.join("\n")}\n`,
  );
}

async function faultsWith(accepted: Record<string, string> | undefined) {
  const path = (name: string) => join(folder, name);
  const { files } = await draftStudy({
    ...{ readings: path("readings.csv"), findings: path("findings.csv"), folder },
  });
  const mapping = { ...files["columns.json"], ...(accepted === undefined ? {} : { accepted }) };
  writeFileSync(path("mapping.json"), JSON.stringify(mapping));
  const { sources, ...protocol } = files["protocol.json"] as { sources: Record<string, object> };
  const named = (kind: string) => ({ ...sources[kind], columns: "mapping.json" });
  const faults: LoudFault[] = [];
  const { flow } = await runStudy(
    defineProtocol({
      ...protocol,
      ...{ audience: "journal", unit: "eye", eye: "right", replicates: 50 },
      sources: { readings: named("readings"), findings: named("findings") },
    }),
    { folder, onFault: (fault) => faults.push(fault) },
  );
  return { faults, flow: JSON.stringify(flow) };
}

it("says what would match, and nothing is changed by it or by accepting it", async () => {
  const loud = await faultsWith(undefined);
  expect(loud.faults).toMatchObject([
    { kind: "loud-fault", rule: "ids-as-written", eyes: 20, of: 60 },
  ]);
  expect(loud.faults[0]!.message).toContain(
    "40 of 60 match as written; 60 would match without leading zeros",
  );
  const accepted = await faultsWith({ "ids-as-written": "0012 and 12 are two children here" });
  expect(accepted.faults).toEqual([]);
  expect(accepted.flow).toBe(loud.flow);
  // another rule's reason is none for this one
  expect((await faultsWith({ "cylinder-sign": "known" })).faults).toHaveLength(1);
});
