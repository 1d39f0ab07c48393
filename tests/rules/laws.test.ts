import fc from "fast-check";
import { describe, expect, it } from "vitest";
import type { Decision } from "../../src/rows/index.js";
import { applyRule, defineRule, type ReferralRule, type RuleChild } from "../../src/rules/index.js";
import { inFull } from "../builders/inFull.js";
import { decideByDefinition } from "./byDefinition.js";
import { asColumns, children, expressions, limits } from "./random.js";

const named = {
  kind: "rule",
  id: "random",
  title: "Random",
  definition: "own",
  appliesTo: "finding",
};

/** A rule, or null where it is refused because it can never be true. */
function ruleOrNull(parts: object): ReferralRule | null {
  try {
    return defineRule({ ...named, ...parts });
  } catch (error) {
    if (/can never be true/.test(String(error))) return null;
    throw error;
  }
}

const rules = fc
  .oneof(
    fc.record({ referWhen: expressions }),
    fc.tuple(expressions, expressions).map(([one, other]) => ({
      bands: [
        { ageMonths: [12, 40], referWhen: one },
        { ageMonths: [40, 72], referWhen: other },
      ],
    })),
  )
  .map(ruleOrNull)
  .filter((rule) => rule !== null);

const many = fc.array(children, { minLength: 1, maxLength: 30 });

const wordsOf = (rule: ReferralRule, list: readonly RuleChild[]): Decision[] => {
  const { decision } = applyRule(rule, asColumns(list));
  return Array.from(decision.codes, (code) => decision.labels[code]);
};

describe("a rule on random children", () => {
  it("decides as by definition, one child and columns alike", () => {
    const seen = { refer: 0, pass: 0, undecidable: 0 };
    fc.assert(
      fc.property(rules, many, (rule, list) => {
        const expected = list.map((child) => decideByDefinition(rule, child));
        expect(list.map((child) => applyRule(rule, child).decision)).toEqual(expected);
        expect(wordsOf(rule, list)).toEqual(expected);
        for (const decision of expected) seen[decision]++;
      }),
      { numRuns: inFull(600, 1500), seed: 7 },
    );
    // each answer has been seen often
    expect(Math.min(...Object.values(seen))).toBeGreaterThan(inFull(300, 1000));
  });

  it("gives columns the criteria, causes and counts that the reasons of each child give", () => {
    fc.assert(
      fc.property(rules, many, (rule, list) => {
        const columns = applyRule(rule, asColumns(list));
        const single = list.map((child) => applyRule(rule, child));
        const counts = { refer: 0, pass: 0, undecidable: 0 };
        single.forEach(({ decision, reasons }, at) => {
          counts[decision]++;
          const crossed = columns.criteria.filter((_, bit) => (columns.crossed[at] >> bit) & 1);
          const expected = new Set(
            reasons.flatMap((reason) => (reason.kind === "crossed" ? [reason.criterion] : [])),
          );
          expect(new Set(crossed)).toEqual(expected);
          const cause = columns.cause.labels[columns.cause.codes[at]];
          const [first] = reasons;
          if (decision !== "undecidable") expect(cause).toBe("decided");
          else expect(cause).toBe(first.kind === "age" ? first.why : "missing-value");
        });
        expect(columns.counts).toMatchObject(counts);
        const { missingValue, noBand, ageSpansBands, ageUnknown } = columns.counts;
        expect(missingValue + noBand + ageSpansBands + ageUnknown).toBe(counts.undecidable);
      }),
      { numRuns: inFull(150, 500), seed: 8 },
    );
  });

  it("does not depend on the order of eyes, children or members", () => {
    const swapped = (json: unknown): unknown =>
      JSON.parse(
        JSON.stringify(json, (key, value) =>
          key === "eye" && value === "right"
            ? "left"
            : key === "eye" && value === "left"
              ? "right"
              : value,
        ),
      );
    const reversed = (json: unknown): unknown => {
      if (Array.isArray(json)) return json.map(reversed).reverse();
      if (json === null || typeof json !== "object") return json;
      return Object.fromEntries(Object.entries(json).map(([key, value]) => [key, reversed(value)]));
    };
    fc.assert(
      fc.property(expressions, many, (expression, list) => {
        const rule = ruleOrNull({ referWhen: expression });
        fc.pre(rule !== null);
        const decisions = wordsOf(rule, list);
        const other = ruleOrNull({ referWhen: swapped(expression) })!;
        const exchanged = list.map((child) => ({ ...child, right: child.left, left: child.right }));
        expect(wordsOf(other, exchanged)).toEqual(decisions);
        expect(wordsOf(rule, [...list].reverse())).toEqual([...decisions].reverse());
        expect(wordsOf(ruleOrNull({ referWhen: reversed(expression) })!, list)).toEqual(decisions);
      }),
      { numRuns: inFull(100, 300), seed: 9 },
    );
  });

  it("does not depend on the cylinder form", () => {
    const transposed = (eye: RuleChild["right"]) =>
      eye?.sphere == null || eye.axis == null || eye.cylinder == null
        ? eye
        : {
            ...eye,
            sphere: eye.sphere + eye.cylinder,
            cylinder: -eye.cylinder,
            axis: eye.axis > 90 ? eye.axis - 90 : eye.axis + 90,
          };
    fc.assert(
      fc.property(rules, many, (rule, list) => {
        const other = list.map((child) => ({
          ...child,
          right: transposed(child.right),
          left: transposed(child.left),
        }));
        expect(wordsOf(rule, other)).toEqual(wordsOf(rule, list));
      }),
      { numRuns: inFull(100, 300), seed: 10 },
    );
  });

  it("never moves from refer or pass when a missing eye is filled in", () => {
    fc.assert(
      fc.property(rules, children, children, (rule, child, other) => {
        const before = applyRule(rule, { ...child, left: null }).decision;
        fc.pre(before !== "undecidable");
        expect(applyRule(rule, { ...child, left: other.left }).decision).toBe(before);
      }),
      { numRuns: inFull(600, 1500), seed: 11 },
    );
  });

  it("refuses as never true only what no child fulfils", () => {
    let refused = 0;
    fc.assert(
      fc.property(fc.array(limits, { minLength: 2, maxLength: 3 }), many, (parts, list) => {
        if (ruleOrNull({ referWhen: { allOf: parts } }) !== null) return;
        refused++;
        const rule = { ...named, referWhen: { allOf: parts } } as unknown as ReferralRule;
        for (const child of list) expect(decideByDefinition(rule, child)).not.toBe("refer");
      }),
      { numRuns: inFull(600, 1500), seed: 12 },
    );
    expect(refused).toBeGreaterThan(inFull(5, 20));
  });
});
