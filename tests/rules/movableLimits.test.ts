import { describe, expect, it } from "vitest";
import { bandOfChildren, defineRule, movableLimits, withLimit } from "../../src/rules/index.js";

const limit = (of: object = {}) => ({
  criterion: "hyperopia",
  quantity: "M",
  eye: "either",
  relation: ">=",
  limit: 2.5,
  ...of,
});
const rule = defineRule({
  kind: "rule",
  id: "mixed",
  title: "Mixed",
  definition: "own",
  appliesTo: "reading",
  bands: [
    {
      ageMonths: [36, 60],
      referWhen: [
        limit(),
        { allOf: [limit({ limit: 1 }), { not: limit({ limit: 4 }) }] },
        { subRule: "shared" },
      ],
    },
    { ageMonths: [60, null], referWhen: [limit({ limit: 3 }), { subRule: "shared" }] },
  ],
  subRules: {
    shared: limit({ relation: undefined, limit: undefined, range: { ">=": 5, "<": 6 } }),
  },
});

const empty = new Float64Array(8);
const nothing = { sphere: empty, cylinder: empty, axis: empty };

describe("movableLimits", () => {
  it("finds limits of one end, one band and no negation, where they stand", () => {
    const found = movableLimits(rule);
    expect(found.map(({ band, path, unit, limit: own }) => [band, path, unit, own.limit])).toEqual([
      [0, ["bands", 0, "referWhen", 0], "D", 2.5],
      [0, ["bands", 0, "referWhen", 1, "allOf", 0], "D", 1],
      [1, ["bands", 1, "referWhen", 0], "D", 3],
    ]);
  });

  it("moves one and nothing else, and no limit to where the rule would not be one", () => {
    const [first] = movableLimits(rule);
    const moved = withLimit(rule, first!.path, 2.25)!;
    expect(defineRule(moved)).toEqual(moved);
    expect(withLimit(moved, first!.path, 2.5)).toEqual(rule);
    expect(moved).not.toEqual(rule);
    expect(withLimit(rule, first!.path, 2.0001)).toBe(null);
  });

  it("knows the band of a child by its months, and none where whole years span two or none", () => {
    const columns = (ageMonths: readonly number[], ageYears: readonly number[]) => ({
      kind: "rule-columns" as const,
      n: ageMonths.length,
      ageMonths: Float64Array.from(ageMonths),
      ageYears: Float64Array.from(ageYears),
      right: nothing,
      left: nothing,
    });
    const none = Number.NaN;
    expect([
      ...bandOfChildren(
        rule,
        columns(
          [35, 36, 59, 60, 500, none, none, none],
          [none, none, none, none, none, 3, 5, none],
        ),
      ),
    ]).toEqual([-1, 0, 0, 1, 1, 0, 1, -1]);
    const odd = defineRule({
      ...rule,
      bands: [
        { ...rule.bands![0], ageMonths: [36, 66] },
        { ...rule.bands![1], ageMonths: [66, null] },
      ],
    });
    expect([...bandOfChildren(odd, columns([none], [5]))]).toEqual([-1]);
    const { bands, ...rest } = rule;
    const ageless = defineRule({ ...rest, referWhen: limit() });
    expect([...bandOfChildren(ageless, columns([none], [none]))]).toEqual([0]);
    expect(movableLimits(ageless).map(({ band, path }) => [band, path])).toEqual([
      [0, ["referWhen"]],
    ]);
  });
});
