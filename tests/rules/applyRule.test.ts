import { describe, expect, it } from "vitest";
import {
  applyRule,
  defineRule,
  type ReferralRule,
  type RuleChild,
  type RuleLimit,
} from "../../src/rules/index.js";
import { asColumns } from "./random.js";

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
  quantity: "M",
  relation: ">",
  limit: 1.5,
} as const satisfies RuleLimit;
const eye = (sphere: number, cylinder = 0, axis: number | null = 90) => ({
  sphere,
  cylinder,
  axis,
});
type Eye = Parameters<typeof decide>[1]["right"];
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

/** One child alone and as a column of one. */
function decide(rule: ReferralRule, child: RuleChild) {
  const alone = applyRule(rule, child);
  const { decision } = applyRule(rule, asColumns([child]));
  expect(decision.labels[decision.codes[0]]).toBe(alone.decision);
  return alone;
}

describe("eye logic", () => {
  const limit = (eyes: string, relation: string, at: number) =>
    rule({
      criterion: "refraction",
      quantity: "M",
      eye: eyes,
      relation,
      limit: at,
    });
  const decisionOf = (one: ReferralRule, right: Eye, left: Eye) =>
    decide(one, { right, left }).decision;

  it("both eyes: one that does not cross is enough to pass", () => {
    const both = limit("both", ">=", 2);
    expect(decisionOf(both, eye(2), eye(2))).toBe("refer");
    expect(decisionOf(both, eye(1.75), unreadable)).toBe("pass");
    expect(decisionOf(both, eye(2), unreadable)).toBe("undecidable");
  });

  it("lesser and greater error, by the size of the value", () => {
    const lesser = limit("lesser-error", "<=", -1);
    expect(decisionOf(lesser, eye(-3), eye(-0.75))).toBe("pass");
    expect(decisionOf(lesser, eye(-3), eye(-1))).toBe("refer");
    // a missing eye cannot make the lesser error greater than this one
    expect(decisionOf(lesser, eye(-0.75), null)).toBe("pass");
    expect(decisionOf(lesser, eye(-1), null)).toBe("undecidable");
    const greatest = limit("greatest-error", ">=", 3);
    expect(decisionOf(greatest, eye(3), eye(-2))).toBe("refer");
    expect(decisionOf(greatest, eye(3), eye(-4))).toBe("pass");
    expect(decisionOf(greatest, eye(3), eye(-3))).toBe("undecidable");
    expect(decide(greatest, { right: eye(3), left: eye(-3) }).reasons).toMatchObject([
      { why: "tie", eye: "right" },
      { why: "tie", eye: "left" },
    ]);
  });

  it("a named eye looks at no other", () => {
    expect(decisionOf(limit("left", ">", 1), null, eye(1))).toBe("pass");
    expect(decisionOf(limit("left", ">", 1), eye(5), null)).toBe("undecidable");
  });
});

describe("beyond the instrument's range", () => {
  it("is beyond every limit on that side, and no number", () => {
    const over = { right: { status: "over-range" }, left: eye(0) } as const;
    const result = decide(rule([plus, aniso]), over);
    expect(result.decision).toBe("refer");
    expect(result.reasons).toMatchObject([
      { criterion: "hyperopia", eye: "right", value: "over-range", margin: null },
    ]);
    const myopia = { ...plus, criterion: "myopia", relation: "<", limit: -3 };
    const minus = { ...myopia, quantity: "mostNegativeMeridian" };
    expect(decide(rule(minus), over)).toMatchObject({
      decision: "undecidable",
      reasons: [{ eye: "right", why: "over-range" }],
    });
    const under = { right: { status: "under-range" }, left: eye(0) } as const;
    expect(decide(rule(minus), under).decision).toBe("refer");
    expect(decide(rule(plus), under).decision).toBe("undecidable");
    expect(decide(rule(aniso), under).decision).toBe("undecidable");
  });
});

describe("other criteria", () => {
  const reading = (limits: unknown) => rule(limits, { appliesTo: "reading" });

  it("oblique astigmatism is more than so many degrees off, in both forms", () => {
    const oblique = rule({
      criterion: "obliqueAstigmatism",
      quantity: "cylinder",
      eye: "either",
      degreesOff: 10,
      relation: ">",
      limit: 1,
    });
    const at = (axis: number | null, cylinder = -1.25) =>
      decide(oblique, { right: eye(0, cylinder, axis), left: eye(0) }).decision;
    expect([10, 10.5, 79.5, 80, 90, 100, 101, 170, 180].map((axis) => at(axis))).toEqual([
      "pass",
      "refer",
      "refer",
      "pass",
      "pass",
      "pass",
      "refer",
      "pass",
      "pass",
    ]);
    expect(at(101, 1.25)).toBe("refer");
    expect(at(45, -1)).toBe("pass");
    expect(at(null)).toBe("undecidable");
  });

  it("pupils and gaze, gaze in prism dioptres", () => {
    const pupils = reading({
      criterion: "pupilDifference",
      quantity: "pupilMm",
      relation: ">=",
      limit: 1,
    });
    const child = (right: number, left: number) => ({
      right: { pupilMm: right },
      left: { pupilMm: left },
    });
    expect(decide(pupils, child(5, 6)).decision).toBe("refer");
    expect(decide(pupils, child(5, 5.9)).decision).toBe("pass");
    expect(decide(pupils, { right: { pupilMm: 5 } }).decision).toBe("undecidable");
    // 5 degrees are 8.749 prism dioptres
    const gaze = (quantity: string) =>
      reading({ criterion: "gazeDeviation", quantity, eye: "either", relation: ">", limit: 8.74 });
    const looks = (gazeHorizontal: number, gazeVertical: number | null) => ({
      right: { gazeHorizontal, gazeVertical },
      left: { gazeHorizontal: 0, gazeVertical: 0 },
    });
    expect(decide(gaze("horizontal"), looks(-5, null)).reasons).toMatchObject([
      { value: 8.749, margin: 0.009, eye: "right" },
    ]);
    expect(decide(gaze("vertical"), looks(-5, 4)).decision).toBe("pass");
    expect(decide(gaze("combined"), looks(4, 4)).decision).toBe("refer");
    expect(decide(gaze("combined"), looks(4, null)).decision).toBe("undecidable");
  });

  it("acuity in logMAR, and its difference", () => {
    const acuity = rule([
      { criterion: "acuity", quantity: "logMAR", eye: "worse", relation: ">", limit: 0.3 },
      { criterion: "acuityDifference", quantity: "logMAR", relation: ">=", limit: 0.2 },
    ]);
    const sees = (right: number | null, left: number | null) => ({
      right: { acuityLogMAR: right },
      left: { acuityLogMAR: left },
    });
    expect(decide(acuity, sees(0.3, 0.2)).decision).toBe("pass");
    expect(decide(acuity, sees(0.3, 0.1)).reasons).toMatchObject([
      { criterion: "acuityDifference", eye: "pair", value: 0.2, margin: 0 },
    ]);
    expect(decide(acuity, sees(null, 0.4)).decision).toBe("refer");
    expect(decide(acuity, sees(null, 0.1)).decision).toBe("undecidable");
  });

  it("a limit under not is a reason by not being crossed", () => {
    const without = rule({
      allOf: [plus, { not: { criterion: "strabismus", is: true, eye: "either" } }],
    });
    const child = {
      right: { ...eye(4), strabismus: false },
      left: { ...eye(0), strabismus: false },
    };
    expect(decide(without, child).reasons).toMatchObject([
      { criterion: "hyperopia", negated: false },
      { criterion: "strabismus", eye: "right", negated: true, value: false },
      { criterion: "strabismus", eye: "left", negated: true, value: false },
    ]);
  });

  it("a sub-rule stands for its expression", () => {
    const named = rule([{ subRule: "far" }], { subRules: { far: [plus] } });
    expect(decide(named, { right: eye(4), left: eye(0) }).reasons).toMatchObject([
      { path: "subRules.far[0]" },
    ]);
  });
});

describe("whole years", () => {
  it("decide where all bands agree, and name no band", () => {
    const banded = rule(undefined, {
      bands: [
        { ageMonths: [18, 30], referWhen: { ...plus, limit: 4 } },
        { ageMonths: [30, 72], referWhen: plus },
      ],
    });
    const years = (ageYears: number, sphere: number) =>
      decide(banded, { ageYears, right: eye(sphere), left: eye(sphere) });
    expect(years(2, 5)).toMatchObject({ decision: "refer", band: null });
    expect(years(2, 3.75)).toMatchObject({
      decision: "undecidable",
      reasons: [{ kind: "age", why: "age-spans-bands" }],
    });
    expect(years(3, 3.75)).toMatchObject({ decision: "refer", band: [30, 72] });
    expect(years(1, 5).reasons).toMatchObject([{ why: "age-spans-bands" }]);
    expect(years(6, 5).reasons).toMatchObject([{ why: "no-band" }]);
  });
});
