import { readdirSync, readFileSync } from "node:fs";
import { join, resolve } from "node:path";
import { describe, expect, it } from "vitest";
import { defineColumns } from "../../src/cohort/index.js";
import { planStudy } from "../../src/planning/index.js";
import { defineProtocol } from "../../src/protocol/index.js";
import { reproduceStudy, studyReport } from "../../src/study/index.js";

// Files as they were written before (tests/fixtures/yesterday/README.md): read as today's are, or
// refused with the change to make.

const folder = resolve(import.meta.dirname, "../fixtures/yesterday");
const json = (path: string) => JSON.parse(readFileSync(path, "utf8"));
const ages = readdirSync(folder, { withFileTypes: true })
  .filter((entry) => entry.isDirectory())
  .map(({ name }) => name);
const files = ages.flatMap((age) => readdirSync(join(folder, age)).map((file) => [age, file]));
const endingIn = (end: string) => files.filter(([, file]) => file!.endsWith(end));

describe("files of yesterday", () => {
  it("are there, of every kind", () => {
    for (const age of ages) {
      const kinds = readdirSync(join(folder, age)).map((file) => file.split(".").slice(-2)[0]);
      expect([...new Set(kinds)].sort()).toEqual([
        "columns",
        "manifest",
        "plan",
        "protocol",
        "result",
      ]);
    }
  });

  it.each(endingIn(".protocol.json"))("%s: the choices of %s are kept", (age, file) => {
    const written = json(join(folder, age!, file!));
    const read: { [key: string]: unknown } = { ...defineProtocol(written) };
    const { unreadable, conditions, ...same } = written;
    expect(read).toMatchObject(same);
    expect(read.undecidable).toBe(unreadable ?? written.undecidable);
    expect(read).not.toHaveProperty("unreadable");
    // a limit keeps its number and its relation, whatever its quantity is called
    const numbers = (value: unknown) => JSON.stringify(value).match(/-?\d+(\.\d+)?|[<>]=?/g);
    expect(numbers(read.conditions)).toEqual(numbers(conditions));
    // what is read is a protocol of today
    expect(defineProtocol(read)).toEqual(read);
  });

  it.each(endingIn(".columns.json"))("%s: the mapping %s is read", (age, file) => {
    const written = json(join(folder, age!, file!));
    const { $schema: _, ...same } = written;
    expect(defineColumns(written)).toMatchObject(same);
  });

  it.each(endingIn(".plan.json"))("%s: the plan %s gives today's numbers", (age, file) => {
    const today = json("data/plans/invented-accuracy.json");
    expect(planStudy(json(join(folder, age!, file!)))).toEqual(planStudy(today));
  });

  it.each(endingIn("result.json"))("%s: %s is refused with what to do", async (age, file) => {
    const result = json(join(folder, age!, file!));
    const cure = "run the study again from its protocol";
    expect(() => studyReport(result)).toThrow(cure);
    await expect(reproduceStudy(join(folder, age!))).rejects.toThrow(cure);
    expect(() => defineProtocol(result.protocol)).not.toThrow();
  });
});
