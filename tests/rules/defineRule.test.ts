import { describe, expect, it } from "vitest";
import { defineRule } from "../../src/rules/index.js";

const named = {
  kind: "rule",
  id: "own",
  title: "Own",
  definition: "own",
  appliesTo: "finding",
};
const plus = {
  criterion: "hyperopia",
  quantity: "M",
  eye: "either",
  relation: ">",
  limit: 3.5,
};
const cylinder = { criterion: "astigmatism", quantity: "cylinder", eye: "either" };
const define = (more: object) => defineRule({ ...named, ...more });
const limit = (more: object) => define({ referWhen: [plus, { ...plus, ...more }] });

describe("mistakes are named with their path", () => {
  it.each([
    ["an unknown criterion", () => limit({ criterion: "farsight" }), /referWhen\[1\]\.criterion: /],
    ["an unknown quantity", () => limit({ quantity: "power" }), /referWhen\[1\]\.quantity: /],
    [
      "a quantity of another criterion",
      () => limit({ quantity: "cylinder" }),
      /referWhen\[1\]\.quantity: hyperopia takes sphere/,
    ],
    ["no relation", () => limit({ relation: undefined }), /referWhen\[1\]: a relation is required/],
    ["no limit", () => limit({ limit: undefined }), /referWhen\[1\]: a limit is required/],
    ["no quantity", () => limit({ quantity: undefined }), /referWhen\[1\]: a quantity is required/],
    ["no eye", () => limit({ eye: undefined }), /referWhen\[1\]: an eye is required/],
    ["a limit too fine", () => limit({ limit: 3.50005 }), /limit: 3.50005 is finer than 0.001/],
    ["an unknown key", () => limit({ limt: 2 }), /referWhen\[1\]: .*limt/],
    [
      "a reversed range",
      () => limit({ relation: undefined, limit: undefined, range: { ">": 5, "<": 3 } }),
      /range: the range is reversed/,
    ],
    [
      "a range with two lower ends",
      () => limit({ relation: undefined, limit: undefined, range: { ">": 5, ">=": 3, "<": 9 } }),
      /range: a range requires one of/,
    ],
    [
      "the eyes of a pair",
      () =>
        define({
          referWhen: { ...plus, criterion: "anisometropia" },
        }),
      /referWhen\.eye: anisometropia takes pair/,
    ],
    [
      "a finding asked of a reading",
      () =>
        define({
          appliesTo: "reading",
          referWhen: { criterion: "strabismus", is: true, eye: "either" },
        }),
      /referWhen\.criterion: a reading has no strabismus/,
    ],
    [
      "yes or no without is",
      () => define({ referWhen: { criterion: "strabismus", eye: "either" } }),
      /requires is: true or is: false/,
    ],
    ["neither bands nor limits", () => define({}), /either bands or referWhen/],
    [
      "a published rule without citation",
      () => define({ definition: "published", referWhen: plus }),
      /citation: a published definition needs its citation/,
    ],
    [
      "an unknown sub-rule",
      () => define({ referWhen: [{ subRule: "toString" }] }),
      /referWhen\[0\]\.subRule: there is no sub-rule "toString"/,
    ],
    [
      "a sub-rule within itself",
      () => define({ referWhen: { subRule: "a" }, subRules: { a: [plus, { subRule: "a" }] } }),
      /subRules\.a\[1\]\.subRule: the sub-rule "a" contains itself/,
    ],
    ["an empty list", () => define({ referWhen: [] }), /referWhen: /],
  ])("%s", (_, attempt, message) => {
    expect(attempt).toThrow(message);
  });

  it.each([
    ["reversed", [[31, 12]], /bands\[0\]\.ageMonths: the band ends at 12/],
    ["empty", [[12, 12]], /bands\[0\]\.ageMonths: the band ends at 12/],
    [
      "with a gap",
      [
        [12, 31],
        [32, 48],
      ],
      /bands\[1\]\.ageMonths: there is a gap between 31 and 32/,
    ],
    [
      "overlapping",
      [
        [12, 31],
        [30, 48],
      ],
      /bands\[1\]\.ageMonths: it overlaps/,
    ],
    [
      "after an open one",
      [
        [12, null],
        [30, 48],
      ],
      /bands\[1\]\.ageMonths: the band before it has no/,
    ],
    ["of fractions", [[12.5, 31]], /bands\[0\]\.ageMonths\[0\]: /],
  ])("bands %s", (_, ages, message) => {
    const bands = ages.map((ageMonths) => ({ ageMonths, referWhen: plus }));
    expect(() => define({ bands })).toThrow(message);
  });
});

describe("an expression that can never be true", () => {
  const never = /can never be true/;
  it.each([
    ["an unsigned size below zero", { ...cylinder, relation: "<=", limit: -1 }, /referWhen: /],
    [
      "both eyes above and below",
      { allOf: [plus, { ...plus, eye: "both", relation: "<=", limit: 3.5 }] },
      /referWhen: /,
    ],
    [
      "a limit and its opposite",
      { allOf: [{ ...plus, eye: "right" }, { not: { ...plus, eye: "right" } }] },
      /referWhen: /,
    ],
    [
      "a meridian beyond the more positive one",
      {
        allOf: [
          { ...plus, eye: "right", quantity: "mostNegativeMeridian" },
          { ...plus, eye: "right", quantity: "mostPositiveMeridian", relation: "<", limit: 2 },
        ],
      },
      /referWhen: /,
    ],
    [
      "one branch of several",
      [
        plus,
        {
          allOf: [
            { ...cylinder, relation: ">", limit: 2 },
            { ...cylinder, eye: "both", relation: "<", limit: 1 },
          ],
        },
      ],
      /referWhen\[1\]: /,
    ],
  ])("%s", (_, referWhen, path) => {
    expect(() => define({ referWhen })).toThrow(never);
    expect(() => define({ referWhen })).toThrow(path);
  });

  it("is not one that different eyes can fulfil", () => {
    const apart = { allOf: [plus, { ...plus, relation: "<", limit: -3 }] };
    expect(define({ referWhen: apart }).id).toBe("own");
  });
});

it("a rule survives JSON", () => {
  const rule = define({ bands: [{ ageMonths: [12, null], referWhen: [plus] }] });
  expect(defineRule(JSON.parse(JSON.stringify(rule)))).toEqual(rule);
});
