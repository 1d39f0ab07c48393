import { describe, expect, it } from "vitest";
import { cutOffFigure } from "../../src/figures/index.js";
import { InputError } from "../../src/results/index.js";
import {
  areaUnderCurve,
  chooseThreshold,
  compareAreas,
  compareIndependentAreas,
  partialArea,
  rocCurve,
  scoreTradeoff,
} from "../../src/thresholds/index.js";
import { wrong } from "../builders/wrong.js";

const values = [1, 2, 3, 4, 5, 6, 7, 8, 9, 10, 11, 12];
const condition = [0, 0, 1, 0, 0, 1, 0, 1, 1, 0, 1, 1];
const subjects = values.map((_, row) => `child ${row >> 1}`);
const high = { positiveWhen: "high" } as const;

describe("areas", () => {
  it("by bootstrap say how many children they rest on", () => {
    const drawn = { ...high, interval: "bootstrap", seed: 1, replicates: 50 } as const;
    expect(areaUnderCurve({ values, condition, subjects }, drawn)).toMatchObject({ subjects: 6 });
    expect(areaUnderCurve({ values, condition }, drawn)).not.toHaveProperty("subjects");
  });

  it("refuse a method and a direction that are none", () => {
    const variance = wrong("jackknife");
    expect(() => areaUnderCurve({ values, condition }, { ...high, variance })).toThrow(
      'areaUnderCurve requires variance: "delong" or "hanley-mcneil", got "jackknife"',
    );
    const data = { first: values, second: [...values].reverse(), condition };
    expect(() => compareAreas(data, wrong(undefined))).toThrow(InputError);
  });

  it("of two groups count children only where both say who they are", () => {
    const other = { values, condition };
    const both = { first: { ...other, subjects }, second: other };
    expect(compareIndependentAreas(both, high)).not.toHaveProperty("subjects");
    const named = subjects.map((name) => `other ${name}`);
    const said = { first: { ...other, subjects }, second: { ...other, subjects: named } };
    expect(compareIndependentAreas(said, high)).toMatchObject({ subjects: 12 });
  });

  it.each([[[-0.1, 0.5]], [[0.5, 1.2]], [[0.5, 0.5]]] as const)("have no part over %j", (range) => {
    const curve = rocCurve({ values, condition }, high);
    expect(() => partialArea(curve, { falsePositiveRate: range })).toThrow(
      /^partialArea requires a range \[low, high\] within 0 and 1/,
    );
  });
});

describe("a chosen cut-off", () => {
  const options = { ...high, seed: 1, replicates: 20, folds: 2, repeats: 1 } as const;

  it("says of which measure its constraint is, and whether rows were children", async () => {
    const criterion = { specificityAtLeast: 0.5 };
    const chosen = await chooseThreshold({ values, condition }, { ...options, criterion });
    expect(chosen.constraint).toMatchObject({ measure: "specificity" });
    expect(chosen.notes).toContain("Rows were taken as independent children.");
    const net = { netBenefitAt: 0.2 };
    const ofChildren = await chooseThreshold(
      { values, condition, subjects },
      { ...options, criterion: net },
    );
    expect(ofChildren.constraint).toBeNull();
    expect(ofChildren.notes).not.toContain("Rows were taken as independent children.");
  });

  it("needs a criterion", async () => {
    const call = async () =>
      chooseThreshold({ values, condition }, { ...options, criterion: wrong(null) });
    await expect(call()).rejects.toThrow(/requires criterion: "youden", .* got null$/);
  });
});

it("units of a score are named where one is missing", () => {
  const data = { test: values, reference: values, confidenceScore: values, condition };
  const units = subjects.with(3, "");
  expect(() =>
    scoreTradeoff({ ...data, units }, { ...high, betterWhen: "high", cutOff: 6 }),
  ).toThrow(/^scoreTradeoff requires units without gaps/);
});

describe("the interval of a cut-off chosen on few children", () => {
  const choose = (children: number) => {
    const one = Array.from({ length: children }, (_, row) => row % 12);
    const rows = { values: one.map((k) => values[k]), condition: one.map((k) => condition[k]) };
    return chooseThreshold(
      { ...rows, subjects: one.map((_, row) => row) },
      { ...high, criterion: "youden", seed: 1, replicates: 40, folds: 2, repeats: 1 },
    );
  };

  it("says below 200 that it covers too little, in notes, caption and description", async () => {
    const few = await choose(149);
    const words = "149 children: with fewer than 200 the interval of a chosen cut-off covers";
    expect(few.notes.join(" ")).toContain(words);
    const figure = cutOffFigure(few);
    expect(figure.caption).toContain(words);
    expect(figure.alt).toContain(words);
    const many = await choose(200);
    expect(many.notes.join(" ")).not.toContain("covers too little");
    expect(cutOffFigure(many).caption).not.toContain("covers too little");
  });
});
