import { readFile } from "node:fs/promises";
import { describe, expect, it } from "vitest";
import { defineProtocol, protocolHash, protocolJsonSchema } from "../../src/protocol/index.js";

const children = JSON.parse(await readFile("data/children/protocol.json", "utf8"));
const changed = (change: (draft: typeof children) => void) => {
  const draft = structuredClone(children);
  change(draft);
  return draft;
};

describe("defineProtocol", () => {
  it("takes the protocols of the repository and fills in stated defaults", async () => {
    const protocol = defineProtocol(children);
    expect(protocol.subgroups).toEqual([]);
    expect(protocol.identifiers.allow).toEqual([]);
    const demo = JSON.parse(await readFile("data/demo/protocol.json", "utf8"));
    expect(defineProtocol(demo).audience).toBe("public");
  });

  it.each([
    [
      "a misspelt key",
      (p: typeof children) => (p.unreadible = "pass"),
      /Unrecognized key: "unreadible"/,
    ],
    ["a missing choice", (p: typeof children) => delete p.unreadable, /unreadable: /],
    ["an unknown word", (p: typeof children) => (p.eye = "first"), /eye: /],
    ["a wrong number", (p: typeof children) => (p.level = 95), /level: /],
    ["no condition", (p: typeof children) => (p.conditions = []), /conditions: /],
    [
      "a condition twice",
      (p: typeof children) => p.conditions.push(p.conditions[0]),
      /conditions\[2\]\.id: the id "myopia-3" is used twice/,
    ],
    [
      "a published definition without citation",
      (p: typeof children) => (p.conditions[0].definition = "published"),
      /conditions\[0\]\.citation: /,
    ],
    [
      "limits that look in two directions",
      (p: typeof children) => (p.conditions[0].referWhen.relation = ">="),
      /conditions\[0\]\.referWhen: .*same direction/,
    ],
    [
      "limits on two quantities",
      (p: typeof children) => (p.conditions[0].referWhen.quantity = "J0"),
      /conditions\[0\]\.referWhen: .*target's quantity/,
    ],
    [
      "the worse of one eye",
      (p: typeof children) => (p.eye = "worse"),
      /eye: .*goes with the unit "child"/,
    ],
    [
      "age bands that do not ascend",
      (p: typeof children) => (p.subgroups = [{ by: "age", edgesYears: [8, 6] }]),
      /subgroups\[0\]\.edgesYears: .*ascend/,
    ],
    ["no seed", (p: typeof children) => delete p.seed, /seed: /],
  ])("names %s with its path", (_, change, message) => {
    expect(() => defineProtocol(changed(change))).toThrow(message);
  });

  it("is no file at all", () => {
    expect(() => defineProtocol(null)).toThrow(/\(the whole file\)/);
    expect(() => defineProtocol([])).toThrow(/defineProtocol requires a valid protocol/);
  });
});

describe("protocolHash", () => {
  it("follows the choices and nothing else", () => {
    const hash = protocolHash(defineProtocol(children));
    const reordered = Object.fromEntries(Object.entries(children).reverse());
    expect(protocolHash(defineProtocol(reordered))).toBe(hash);
    expect(
      protocolHash(defineProtocol(changed((p) => (p.conditions[0].note = "another note")))),
    ).toBe(hash);
    expect(
      protocolHash(defineProtocol(changed((p) => (p.conditions[0].referWhen.limit = -2.75)))),
    ).not.toBe(hash);
  });
});

describe("protocolJsonSchema", () => {
  it("describes every choice for an editor", () => {
    const schema = protocolJsonSchema() as {
      properties: { [key: string]: { description?: string } };
    };
    expect(Object.keys(schema.properties)).toContain("unreadable");
    expect(schema.properties.unreadable.description).toContain("without a usable reading");
  });
});
