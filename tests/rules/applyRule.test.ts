import { describe, expect, it } from "vitest";
import { applyRule, defineRule, type RuleLimit } from "../../src/rules/index.js";

const rule = (referWhen: unknown, more: object = {}) =>
  defineRule({
    kind: "rule",
    id: "own",
    title: "Own",
    definition: "own",
    appliesTo: "finding",
    referWhen,
    ...more,
  });
const plus = {
  criterion: "hyperopia",
  quantity: "mostPositiveMeridian",
  eye: "either",
  relation: ">",
  limit: 3.5,
} as const satisfies RuleLimit;
const aniso = {
  criterion: "anisometropia",
  quantity: "sphericalEquivalent",
  relation: ">",
  limit: 1.5,
} as const satisfies RuleLimit;
const eye = (sphere: number, cylinder = 0, axis: number | null = 90) => ({
  sphere,
  cylinder,
  axis,
});
const unreadable = { status: "unreadable" } as const;

describe("one child", () => {
  it("refers on one eye although the other is unreadable", () => {
    const result = applyRule(rule([plus, aniso]), { right: unreadable, left: eye(4, -1) });
    expect(result).toEqual({
      kind: "rule-decision",
      rule: "own",
      decision: "refer",
      band: null,
      reasons: [
        {
          kind: "crossed",
          path: "referWhen[0]",
          criterion: "hyperopia",
          eye: "left",
          words: "hyperopia: most positive meridian > +3.50 D in either eye",
          value: 4,
          limit: 3.5,
          margin: 0.5,
          negated: false,
        },
      ],
    });
  });

  it("is undecidable where nothing is crossed and an eye is missing, and says what", () => {
    const result = applyRule(rule([plus, aniso]), { right: unreadable, left: eye(3.5, -1) });
    expect(result.decision).toBe("undecidable");
    expect(result.reasons).toMatchObject([
      { kind: "missing", criterion: "hyperopia", eye: "right", why: "unreadable" },
      { kind: "missing", criterion: "anisometropia", eye: "right", why: "unreadable" },
    ]);
    expect(applyRule(rule([aniso]), { left: eye(9) }).reasons).toMatchObject([
      { eye: "right", why: "no-eye" },
    ]);
  });

  it("passes at a strict limit, in both cylinder forms", () => {
    const both = (one: ReturnType<typeof eye>) => ({ right: one, left: eye(0) });
    expect(applyRule(rule(plus), both(eye(3.5, -1, 10))).decision).toBe("pass");
    expect(applyRule(rule(plus), both(eye(2.5, 1, 100))).decision).toBe("pass");
    expect(applyRule(rule(plus), both(eye(3.51, -1, 10))).decision).toBe("refer");
    expect(applyRule(rule(plus), both(eye(2.51, 1, 100))).decision).toBe("refer");
  });
});
