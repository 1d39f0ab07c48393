// What a rule says of itself, word by word: texts.md was read by a person; a changed word shows there.
import { describe, expect, it } from "vitest";
import {
  checkRule,
  conditionsOfRule,
  criteria,
  defineRule,
  explainRule,
  publishedRules,
  type ReferralRule,
  ruleDifference,
} from "../../src/rules/index.js";
import { toMarkdown } from "../../src/tables/index.js";

const hyperopia = {
  criterion: "hyperopia",
  quantity: "mostPositiveMeridian",
  eye: "either",
  relation: ">=",
  limit: 3.25,
} as const;

/** An invented rule that uses every construct once. */
const everything = defineRule({
  kind: "rule",
  id: "every-construct",
  title: "Every construct",
  definition: "own",
  appliesTo: "finding",
  note: "Invented for this test.",
  chosen: ["A choice that was made."],
  notIncluded: ["what nobody measured"],
  subRules: {
    Turned: {
      allOf: [
        { criterion: "strabismus", is: true, eye: "either" },
        { not: { criterion: "ptosis", is: false, eye: "both" } },
      ],
    },
  },
  bands: [
    {
      ageMonths: [12, 48],
      note: "the young ones",
      referWhen: [
        { ...hyperopia, note: "a high limit" },
        { criterion: "myopia", quantity: "sphere", eye: "worse", relation: "<", limit: -2 },
        {
          criterion: "hyperopia",
          quantity: "M",
          eye: "right",
          range: { ">": 2, "<=": 3.125 },
        },
      ],
    },
    {
      ageMonths: [48, null],
      referWhen: {
        anyOf: [
          {
            criterion: "anisometropia",
            quantity: "J45",
            mirror: true,
            relation: ">",
            limit: 1.5,
          },
          {
            criterion: "obliqueAstigmatism",
            quantity: "cylinder",
            degreesOff: 15,
            eye: "left",
            relation: ">=",
            limit: 1,
          },
          { subRule: "Turned" },
        ],
      },
    },
  ],
});

const ofReading = defineRule({
  kind: "rule",
  id: "of-a-reading",
  title: "Of a reading",
  definition: "own",
  appliesTo: "reading",
  referWhen: [
    hyperopia,
    { criterion: "pupilDifference", quantity: "pupilMm", relation: ">=", limit: 1 },
  ],
});

it("a rule is explained in these words", async () => {
  const published = Object.values(publishedRules).filter(
    (one): one is Extract<typeof one, { kind: "rule" }> => one.kind === "rule",
  );
  const tables = [everything, ofReading, ...published].map((rule) =>
    toMarkdown(explainRule(rule as ReferralRule)),
  );
  await expect(`${tables.join("\n\n")}\n`).toMatchFileSnapshot("texts.md");
});

it("what was published says this, and leaves these choices open", async () => {
  const text = JSON.stringify({ publishedRules, criteria }, null, 1);
  await expect(`${text}\n`).toMatchFileSnapshot("published.json");
});

it("conditions and differences of a rule have these words", async () => {
  const difference = ruleDifference(ofReading, {
    ...ofReading,
    referWhen: [{ ...hyperopia, limit: 4 }],
  });
  const text = JSON.stringify({ conditions: conditionsOfRule(everything), difference }, null, 1);
  await expect(`${text}\n`).toMatchFileSnapshot("words.json");
});

describe("mistakes have these words", () => {
  const check = (limit: object, more: object = {}) =>
    checkRule({ ...ofReading, referWhen: [limit], ...more } as ReferralRule).map(
      ({ path, message }) => `${path.join("/")}: ${message}`,
    );
  const yes = { criterion: "strabismus", is: true, eye: "either" };
  it.each([
    ["a range beside a limit", { ...hyperopia, range: { ">": 1, "<": 2 } }],
    ["a yes or no with a limit", { ...yes, limit: 3, relation: ">", quantity: "M", range: {} }],
    ["a mirror elsewhere", { ...hyperopia, mirror: true }],
    ["a mirror of what has no sides", { criterion: "anisometropia", quantity: "M", mirror: true }],
    ["degrees elsewhere", { ...hyperopia, degreesOff: 15 }],
    ["two faults in one", { ...hyperopia, limit: 0.00001, is: true }],
  ])("%s", (_, limit) => expect(check(limit)).toMatchSnapshot());

  it("says each mistake once, though two bands share it", () => {
    const wrong = { ...hyperopia, limit: 0.00001 };
    const rule = { ...everything, subRules: { Turned: [wrong] } } as ReferralRule;
    const mistakes = checkRule(rule).map(({ message }) => message);
    expect(mistakes.filter((message) => message.includes("finer"))).toHaveLength(1);
  });

  it.each([
    [{ id: "Not This" }, /id: an id has small letters, digits and hyphens only/],
    [{ id: "not this!" }, /id: an id has small letters, digits and hyphens only/],
    [{ subRules: { "a b": [hyperopia] } }, /subRules/],
    [{ subRules: { "": [hyperopia] } }, /subRules/],
  ])("%j", (more, message) => {
    expect(() => defineRule({ ...ofReading, ...more })).toThrow(message);
  });

  it("no rule at all", () => {
    expect(() => explainRule(3 as never)).toThrow(
      "explainRule requires a rule from defineRule, got number",
    );
  });
});
