import { readFileSync } from "node:fs";
import { expect, it } from "vitest";
import { defineProtocol, protocolHash } from "../../src/protocol/index.js";
import { completeRule, defineRule, publishedRules } from "../../src/rules/index.js";

const read = (path: string) => JSON.parse(readFileSync(path, "utf8"));

// The fixture is the demonstration's protocol as it was before the spherical equivalent was "M" in rules.
it("a protocol of yesterday is today's", () => {
  const before = read("tests/fixtures/yesterday/rule-protocol.json");
  // since then the caution was worded anew and criteria were added
  const { criteria: _, ...today } = read("data/demo/rule-protocol.json");
  const now = {
    ...today,
    conditions: today.conditions.map((one: object, at: number) => ({
      ...one,
      caution: before.conditions[at].caution,
    })),
  };
  expect(JSON.stringify(before)).toContain("sphericalEquivalent");
  expect(JSON.stringify(now)).not.toContain("sphericalEquivalent");
  const protocol = defineProtocol(before);
  expect(protocol).toEqual(defineProtocol(now));
  expect(protocolHash(protocol)).toBe(protocolHash(defineProtocol(now)));
});

it("so are a rule, and the choices of a template", () => {
  const rule = (quantity: string) =>
    defineRule({
      kind: "rule",
      id: "invented",
      title: "Invented",
      definition: "own",
      appliesTo: "reading",
      referWhen: [{ criterion: "myopia", quantity, eye: "either", relation: "<=", limit: -1 }],
    });
  expect(rule("sphericalEquivalent")).toEqual(rule("M"));
  const template = publishedRules["exam-failure-2001"];
  if (template.kind !== "rule-template") throw new Error("no template");
  const complete = (quantity: string) =>
    completeRule(template, {
      hyperopiaQuantity: quantity,
      myopiaQuantity: quantity,
      anisometropiaQuantity: quantity,
    });
  expect(complete("sphericalEquivalent")).toEqual(complete("M"));
});
