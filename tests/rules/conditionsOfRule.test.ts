import fc from "fast-check";
import { describe, expect, it } from "vitest";
import {
  applyRule,
  completeRule,
  conditionsOfRule,
  defineRule,
  publishedRules,
  type ReferralRule,
  variableValues,
} from "../../src/rules/index.js";
import { asColumns, children, expressions, limits } from "./random.js";

const base = {
  kind: "rule",
  id: "random",
  title: "Random",
  definition: "own",
  appliesTo: "finding",
};

const aapos = completeRule(publishedRules["aapos-2013"], {
  hyperopiaQuantity: "mostPositiveMeridian",
  myopiaQuantity: "mostNegativeMeridian",
  anisometropiaQuantity: "M",
});

function ruleOrNull(parts: object): ReferralRule | null {
  try {
    return defineRule({ ...base, ...parts });
  } catch (error) {
    if (/can never be true/.test(String(error))) return null;
    throw error;
  }
}

describe("conditionsOfRule", () => {
  it("takes a published rule apart by what is looked for, each with its variable or the reason", () => {
    const found = conditionsOfRule(aapos);
    expect(
      found.map(({ words, variable }) => [
        words,
        variable.kind === "undefined" ? variable.reason : [variable.words, variable.positiveWhen],
      ]),
    ).toEqual([
      ["hyperopia", ["most positive meridian, higher of both eyes", "high"]],
      ["myopia", ["most negative meridian, lower of both eyes", "low"]],
      ["astigmatism", ["size of the cylinder, higher of both eyes", "high"]],
      ["anisometropia", ["spherical equivalent (M), difference of the eyes", "high"]],
      ["media opacity", "a reading does not measure it"],
    ]);
    // its own limits, still valid as a rule
    const [hyperopia] = found;
    expect(defineRule(hyperopia.rule).bands!.map(({ referWhen }) => referWhen)).toEqual(
      [4.5, 4, 3.5].map((limit) => [
        expect.objectContaining({ criterion: "hyperopia", relation: ">", limit }),
      ]),
    );
  });

  it("has no variable for a range, for several quantities, or for all-of", () => {
    const of = (referWhen: unknown) =>
      conditionsOfRule(defineRule({ ...base, referWhen })).map(({ variable }) =>
        variable.kind === "undefined" ? variable.reason : "variable",
      );
    const hyperopia = { criterion: "hyperopia", quantity: "M", eye: "either" };
    const limit = { ...hyperopia, relation: ">", limit: 2 };
    expect(of([{ ...hyperopia, range: { ">": 2, "<": 5 } }])).toEqual(["it lies between two ends"]);
    expect(of([limit, { ...limit, quantity: "mostPositiveMeridian" }])).toEqual([
      "its limits are on several quantities, eyes or directions",
    ]);
    expect(of([{ allOf: [limit, { ...limit, eye: "both" }] }])).toEqual([
      "it joins several limits",
    ]);
    expect(of({ anyOf: [limit, [{ ...limit, limit: 3 }]] })).toEqual(["variable"]);
  });

  it("leaves out ages at which a condition is not looked for, and has no rule over a gap", () => {
    const of = (criteria: string[]) =>
      conditionsOfRule(
        defineRule({
          ...base,
          bands: criteria.map((criterion, at) => ({
            ageMonths: [12 * at, 12 * at + 12],
            referWhen: [
              {
                criterion,
                quantity: "M",
                eye: "either",
                relation: criterion === "myopia" ? "<" : ">",
                limit: criterion === "myopia" ? -1 : 2,
              },
            ],
          })),
        }),
      );
    const [hyperopia, myopia] = of(["hyperopia", "myopia", "hyperopia"]);
    expect(hyperopia.rule).toBe(null);
    expect(hyperopia.variable).toMatchObject({
      reason: "it is not looked for at every age between",
    });
    expect(myopia.rule!.bands!.map(({ ageMonths }) => ageMonths)).toEqual([[12, 24]]);
  });

  it("joined again by any-of, the conditions are the rule", () => {
    let several = 0;
    fc.assert(
      fc.property(expressions, fc.array(children, { minLength: 1, maxLength: 20 }), (all, list) => {
        const rule = ruleOrNull({ referWhen: all });
        if (rule === null) return;
        const columns = asColumns(list);
        const parts = conditionsOfRule(rule).map((part) => applyRule(part.rule!, columns));
        several += Number(parts.length > 1);
        const whole = applyRule(rule, columns).decision.codes;
        list.forEach((_, child) => {
          const codes = parts.map(({ decision }) => decision.codes[child]);
          expect(codes.includes(1) ? 1 : codes.includes(2) ? 2 : 0).toBe(whole[child]);
        });
      }),
      { numRuns: 300, seed: 20 },
    );
    expect(several).toBeGreaterThan(50);
  });
});

describe("variableValues", () => {
  it("crosses the limit exactly where the rule refers", () => {
    let compared = 0;
    fc.assert(
      fc.property(limits, fc.array(children, { minLength: 1, maxLength: 20 }), (limit, list) => {
        const rule = ruleOrNull({ referWhen: [limit] });
        const [condition] = rule === null ? [] : conditionsOfRule(rule);
        if (condition === undefined || condition.variable.kind === "undefined") return;
        const columns = asColumns(list);
        const decided = applyRule(condition.rule!, columns).decision.codes;
        const { relation, limit: end } = condition.variable.limit;
        variableValues(condition.variable, columns).forEach((value, child) => {
          if (Number.isNaN(value)) return;
          compared++;
          const beyond = relation!.startsWith(">") ? value - end! : end! - value;
          const referred = relation!.endsWith("=") ? beyond >= 0 : beyond > 0;
          expect(decided[child]).toBe(Number(referred));
        });
      }),
      { numRuns: 1000 },
    );
    expect(compared).toBeGreaterThan(1000);
  });

  it("is missing where a needed eye is, and beyond the instrument's range", () => {
    const [hyperopia] = conditionsOfRule(aapos);
    if (hyperopia.variable.kind === "undefined") throw new Error("no variable");
    const eye = { sphere: 2, cylinder: -1, axis: 90 };
    const list = [
      { ageMonths: 40, right: eye, left: { ...eye, sphere: 3 } },
      { ageMonths: 40, right: eye, left: null },
      { ageMonths: 40, right: eye, left: { status: "over-range" as const } },
    ];
    expect([...variableValues(hyperopia.variable, asColumns(list))]).toEqual([
      3,
      Number.NaN,
      Number.NaN,
    ]);
  });
});
