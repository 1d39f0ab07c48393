import { readFile } from "node:fs/promises";
import { describe, expect, it } from "vitest";
import { defineProtocol } from "../../src/protocol/index.js";
import { runStudy, studyReport } from "../../src/study/index.js";

// A protocol decides who sees a study; a mapping that says "public" holds against one that does not.
const folder = "data/children";
const read = async (file: string) => JSON.parse(await readFile(`${folder}/${file}`, "utf8"));
const [json, { audience: _, ...columns }] = await Promise.all([
  read("protocol.json"),
  read("columns.json"),
]);
const study = (audience: string, said: object, other = said) => {
  const of = ({ file }: { readonly file: string }, words: object) => ({
    file,
    columns: { ...columns, ...words },
  });
  const { readings, findings } = json.sources;
  const sources = { readings: of(readings, said), findings: of(findings, other) };
  return runStudy(defineProtocol({ ...json, audience, sources, replicates: 40 }), { folder });
};

describe("the audience of a study", () => {
  it("is the protocol's, refused where a mapping says public, with the cure", async () => {
    const [open, closed] = [{ audience: "journal" }, { audience: "public" }];
    await expect(study("journal", closed)).rejects.toThrow(
      'the mapping of the readings says "audience": "public", got "audience": "journal" in the protocol; say "public" in the protocol',
    );
    await expect(study("journal", open, closed)).rejects.toThrow("the mapping of the findings");
  });

  it("is the protocol's, whatever a mapping allows", async () => {
    const [silent, open] = await Promise.all([
      study("public", {}),
      study("public", { audience: "journal" }),
    ]);
    const { protocol, protocolHash, ...rest } = open;
    expect(rest).toEqual({ ...silent, protocol: undefined, protocolHash: undefined });
    expect(JSON.stringify(rest)).not.toContain('"audience"');
    expect(JSON.stringify(studyReport(open).sections)).toContain("fewer than 11");
    expect(protocolHash).not.toBe(silent.protocolHash);
    expect(protocol.audience).toBe("public");
  });
});
