import { describe, expect, it } from "vitest";
import {
  applyRule,
  asPublished,
  completeRule,
  explainRule,
  publishedRules,
  type ReferralRule,
  type RuleChild,
  type RuleTemplate,
} from "../../src/rules/index.js";
import { toMarkdown } from "../../src/tables/index.js";
import { wrong } from "../builders/wrong.js";

/** Every rule of a template, by all combinations of its options. */
function everyRule(published: ReferralRule | RuleTemplate): ReferralRule[] {
  if (published.kind === "rule") return [published];
  let combinations: { [name: string]: string }[] = [{}];
  for (const { name, options } of published.choices) {
    combinations = combinations.flatMap((one) => options.map(({ id }) => ({ ...one, [name]: id })));
  }
  return combinations.map((choices) => completeRule(published, choices));
}

// Numbers and relations as read in print by those who prepared this project: the sources named in
// each rule's citation. Typed here a second time; the rules are not read for them.
// [rule, months, criterion, relation, limit, eyes]
type Row = readonly [
  keyof typeof publishedRules,
  number | null,
  "hyperopia" | "myopia" | "astigmatism",
  ">" | ">=" | "<" | "<=",
  number,
  "one" | "both",
];
const powers: readonly Row[] = [
  ["aapos-2013", 12, "hyperopia", ">", 4.5, "one"],
  ["aapos-2013", 30, "hyperopia", ">", 4.5, "one"],
  ["aapos-2013", 31, "hyperopia", ">", 4, "one"],
  ["aapos-2013", 48, "hyperopia", ">", 4, "one"],
  ["aapos-2013", 49, "hyperopia", ">", 3.5, "one"],
  ["aapos-2013", 72, "hyperopia", ">", 3.5, "one"],
  ["aapos-2013", 30, "myopia", "<", -3.5, "one"],
  ["aapos-2013", 48, "myopia", "<", -3, "one"],
  ["aapos-2013", 49, "myopia", "<", -1.5, "one"],
  ["aapos-2013", 30, "astigmatism", ">", 2, "one"],
  ["aapos-2013", 48, "astigmatism", ">", 2, "one"],
  ["aapos-2013", 49, "astigmatism", ">", 1.5, "one"],
  ["vip-group-1", 36, "hyperopia", ">=", 5, "one"],
  ["vip-group-1", 71, "myopia", "<=", -6, "one"],
  ["vip-group-1", 71, "astigmatism", ">=", 2.5, "one"],
  ["vip-group-2", 40, "myopia", "<=", -4, "one"],
  ["vip-group-2", 40, "astigmatism", ">", 1.5, "one"],
  ["vip-significant-2014", 40, "hyperopia", ">", 3.25, "one"],
  ["vip-significant-2014", 40, "myopia", "<", -2, "one"],
  ["vip-significant-2014", 40, "astigmatism", ">", 1.5, "one"],
  ["school-exam-2015", null, "hyperopia", ">=", 4, "both"],
  ["school-exam-2015", null, "myopia", "<=", -6, "both"],
  ["school-exam-2015", null, "astigmatism", ">=", 2, "both"],
  ["exam-failure-2001", null, "hyperopia", ">", 3.5, "one"],
  ["exam-failure-2001", null, "myopia", "<", -3, "one"],
  ["exam-failure-2001", null, "astigmatism", ">=", 2, "one"],
  ["abnormal-refraction-bjo", null, "hyperopia", ">=", 4, "one"],
  ["abnormal-refraction-bjo", null, "myopia", "<", -2, "one"],
  ["abnormal-refraction-bjo", null, "astigmatism", ">=", 1.5, "one"],
];

const steps = [-0.01, 0, 0.01];
const meets = (value: number, relation: Row[3], limit: number) =>
  relation === ">"
    ? value > limit
    : relation === ">="
      ? value >= limit
      : relation === "<"
        ? value < limit
        : value <= limit;

/** A pair of eyes with the power (or cylinder) wanted, and nothing else; in both cylinder forms. */
function children(criterion: Row[2], value: number, eyes: Row[5], ageMonths: number | null) {
  const round = (power: number) => Math.round(power * 100) / 100;
  const forms =
    criterion === "astigmatism"
      ? [
          // the equivalent stays near 0, so that no other limit is near
          { sphere: round(value / 2), cylinder: -value, axis: 180 },
          { sphere: round(value / 2 - value), cylinder: value, axis: 90 },
        ]
      : [
          { sphere: value, cylinder: 0, axis: null },
          { sphere: value, cylinder: 0, axis: 75 },
        ];
  const rest = { strabismus: false, mediaOpacity: false };
  return forms.flatMap((eye): RuleChild[] => {
    const affected = { ...eye, ...rest };
    // the other eye a little less affected, so that the eyes do not differ by much
    const share = eyes === "both" ? 1 : 0.9;
    const other = {
      ...rest,
      sphere: round(eye.sphere * share),
      cylinder: round(eye.cylinder * share),
      axis: eye.axis,
    };
    return [
      { ageMonths, right: affected, left: other },
      { ageMonths, right: other, left: affected },
    ];
  });
}

describe("the limits of published definitions", () => {
  it.each(powers)(
    "%s at %s months: %s %s %d, %s",
    (id, months, criterion, relation, limit, eyes) => {
      for (const rule of everyRule(publishedRules[id])) {
        for (const step of steps) {
          const value = Math.round((limit + step) * 100) / 100;
          for (const child of children(criterion, value, eyes, months)) {
            const { decision, reasons } = applyRule(rule, child);
            const crossed = meets(value, relation, limit);
            expect([value, decision]).toEqual([value, crossed ? "refer" : "pass"]);
            expect(
              reasons.some((reason) => "criterion" in reason && reason.criterion === criterion),
            ).toBe(crossed);
          }
        }
      }
    },
  );

  // differences of the eyes: [rule, months, powers that differ, relation, limit]
  type Pair = readonly [
    keyof typeof publishedRules,
    number | null,
    "hyperopic" | "myopic" | "cylinder" | "any",
    ">" | ">=",
    number,
  ];
  const pairs: readonly Pair[] = [
    ["aapos-2013", 30, "any", ">", 2.5],
    ["aapos-2013", 48, "any", ">", 2],
    ["aapos-2013", 49, "any", ">", 1.5],
    ["exam-failure-2001", null, "any", ">=", 1.5],
    ["vip-group-1", 40, "hyperopic", ">", 2],
    ["vip-group-1", 40, "cylinder", ">", 3],
    ["vip-group-1", 40, "myopic", ">", 6],
    ["vip-group-2", 40, "hyperopic", ">", 1],
    ["vip-group-2", 40, "cylinder", ">", 1.5],
    ["vip-group-2", 40, "myopic", ">", 3],
    ["vip-significant-2014", 40, "hyperopic", ">", 1],
    ["vip-significant-2014", 40, "cylinder", ">", 1.5],
    ["school-exam-2015", null, "hyperopic", ">=", 1],
    ["school-exam-2015", null, "myopic", ">=", 3],
    ["school-exam-2015", null, "cylinder", ">=", 1.5],
    ["abnormal-refraction-bjo", null, "any", ">=", 1],
    ["abnormal-refraction-bjo", null, "cylinder", ">=", 1],
  ];

  it.each(pairs)("%s at %s months: difference, %s, %s %d", (id, months, kind, relation, limit) => {
    let tested = 0;
    for (const rule of everyRule(publishedRules[id])) {
      const chosenCylinder = rule.chosen?.some((words) => words.includes("size of the cylinder"));
      for (const step of steps) {
        const value = Math.round((limit + step) * 100) / 100;
        const near = (sphere: number, cylinder: number) => ({
          sphere,
          cylinder,
          axis: 180,
          strabismus: false,
          mediaOpacity: false,
        });
        const eyes =
          kind === "cylinder" || (kind === "any" && chosenCylinder)
            ? [near(0, 0), near(value / 2, -value)]
            : kind === "myopic"
              ? [near(-0.25, 0), near(-0.25 - value, 0)]
              : [near(0.25, 0), near(0.25 + value, 0)];
        const [right, left] = eyes;
        const { decision, reasons } = applyRule(rule, { ageMonths: months, right, left });
        const named = reasons.filter(
          (reason) => "criterion" in reason && reason.criterion === "anisometropia",
        );
        const crossed = meets(value, relation, limit);
        expect([value, named.length > 0]).toEqual([value, crossed]);
        if (crossed) expect(decision).toBe("refer");
        tested++;
      }
    }
    expect(tested).toBeGreaterThan(0);
  });

  it("group 2 asks of hyperopia below 5 D that the equivalents differ by half a dioptre", () => {
    const eye = (sphere: number) => ({ sphere, cylinder: 0, axis: null });
    for (const rule of everyRule(publishedRules["vip-group-2"])) {
      const decide = (right: number, left: number) =>
        applyRule(rule, { ageMonths: 40, right: eye(right), left: eye(left) }).decision;
      expect(decide(3.26, 2.76)).toBe("refer");
      expect(decide(3.26, 2.77)).toBe("pass");
      expect(decide(3.25, 2.75)).toBe("pass");
      expect(decide(4.99, 4.49)).toBe("refer");
      expect(decide(5, 4.5)).toBe("pass");
    }
  });

  it("group 2 ends where group 1 begins", () => {
    const plain = { axis: 180, cylinder: 0, sphere: 0 };
    for (const rule of everyRule(publishedRules["vip-group-2"])) {
      const decide = (eye: object) =>
        applyRule(rule, {
          ageMonths: 40,
          right: { ...plain, ...eye },
          left: { ...plain, ...eye },
        }).decision;
      expect(decide({ sphere: -5.99 })).toBe("refer");
      expect(decide({ sphere: -6 })).toBe("pass");
      expect(decide({ sphere: 1.25, cylinder: -2.49 })).toBe("refer");
      expect(decide({ sphere: 1.25, cylinder: -2.5 })).toBe("pass");
    }
  });

  it("a sphere limit is on the minus-cylinder form, however it was written", () => {
    const rule = publishedRules["abnormal-refraction-bjo"];
    const decide = (sphere: number, cylinder: number, axis: number) => {
      const eye = { sphere, cylinder, axis };
      return applyRule(rule, { right: eye, left: eye }).decision;
    };
    expect(decide(4, -1, 10)).toBe("refer");
    expect(decide(3, 1, 100)).toBe("refer");
    expect(decide(3.99, -1, 10)).toBe("pass");
    expect(decide(2.99, 1, 100)).toBe("pass");
  });

  it("the worked example of table 1: +3.50 -1.00 and +3.50 -1.50 is abnormal by the left eye", () => {
    // Br J Ophthalmol, table 1
    const rule = publishedRules["abnormal-refraction-bjo"];
    const { decision, reasons } = applyRule(rule, {
      right: { sphere: 3.5, cylinder: -1, axis: 180 },
      left: { sphere: 3.5, cylinder: -1.5, axis: 180 },
    });
    expect(decision).toBe("refer");
    expect(reasons).toMatchObject([
      { criterion: "astigmatism", eye: "left", value: 1.5, limit: 1.5, margin: 0 },
    ]);
  });

  it("an age outside the bands is undecidable, not a pass", () => {
    const [rule] = everyRule(publishedRules["aapos-2013"]);
    for (const ageMonths of [11, 73]) {
      expect(applyRule(rule, { ageMonths, right: null, left: null })).toMatchObject({
        decision: "undecidable",
        reasons: [{ kind: "age", why: "no-band" }],
      });
    }
    // 30.9 months are 30 completed ones
    const plus = { sphere: 4.25, cylinder: 0, axis: null, mediaOpacity: false };
    const at = (ageMonths: number) => applyRule(rule, { ageMonths, right: plus, left: plus });
    expect(at(30.9)).toMatchObject({ decision: "pass", band: [12, 31] });
    expect(at(31)).toMatchObject({ decision: "refer", band: [31, 49] });
  });
});

describe("templates", () => {
  it("make the user choose, and print the choice", () => {
    const template = publishedRules["aapos-2013"];
    expect(() => completeRule(template, {})).toThrow(
      /requires hyperopiaQuantity .* one of "M", "mostPositiveMeridian", "sphere", got none/,
    );
    expect(() => completeRule(template, { other: "x" })).toThrow(/got other/);
    expect(() => applyRule(wrong(template), {})).toThrow(/completeRule/);
    const rule = completeRule(template, {
      hyperopiaQuantity: "M",
      myopiaQuantity: "mostNegativeMeridian",
      anisometropiaQuantity: "sphere",
    });
    const notes = explainRule(rule).notes.join("\n");
    expect(notes).toContain("Chosen: most negative meridian.");
    expect(notes).toContain(asPublished);
    expect(notes).toContain("Not included: manifest strabismus");
  });

  it("come with their citation and the caution, and nothing that was only recalled", () => {
    for (const published of Object.values(publishedRules)) {
      for (const rule of everyRule(published)) {
        expect(rule.citation).toBeTruthy();
        expect(rule.appliesTo).toBe("finding");
        const notes = explainRule(rule).notes.join("\n");
        expect(notes).toContain(asPublished);
        expect(notes).toContain("Research use only");
      }
    }
    expect(Object.keys(publishedRules)).not.toContain("aapos-2003");
    expect(Object.keys(publishedRules)).not.toContain("aapos-2021");
  });
});

describe("explainRule", () => {
  it("is a table that writers print", () => {
    const text = toMarkdown(explainRule(publishedRules["abnormal-refraction-bjo"]));
    expect(text).toContain("| – hyperopia");
    expect(text).toMatch(
      /sphere \(minus-cylinder form\)\s*\|\s*\\?>= \+4\.00 D\s*\|\s*in the worse eye/,
    );
  });
});
