import { describe, expect, it } from "vitest";
import {
  categorise,
  type RefractionCategories,
  type RuleChild,
  refractionCategories,
} from "../../src/rules/index.js";
import { asColumns } from "./random.js";

const eye = (sphere: number, cylinder = 0, axis = 180) => ({ sphere, cylinder, axis });
const of = (definition: RefractionCategories, child: RuleChild, side?: "right" | "left") =>
  categorise(definition, child, side ? { eye: side } : {})
    .categories.filter((one) => one.in === "yes")
    .map(({ name }) => name);

// Limits as read in print, typed here a second time: [definition, category, power, relation, limit]
type Row = readonly [keyof typeof refractionCategories, string, ">" | ">=" | "<" | "<=", number];
const equivalents: readonly Row[] = [
  ["imi-2019", "myopia", "<=", -0.5],
  ["imi-2019", "high myopia", "<=", -6],
  ["knhanes-2010", "hyperopia", ">", 1],
  ["knhanes-2010", "myopia", "<", -0.75],
  ["poland-adult", "hyperopia", ">=", 0.5],
  ["poland-adult", "myopia", "<=", -0.5],
  ["school-children", "hyperopia", ">=", 2],
  ["school-children", "myopia", "<=", -1],
  ["cleere", "hyperopia", ">=", 1],
  ["cleere", "myopia", "<=", -0.75],
  ["cleere", "emmetropia", ">", -0.25],
  ["cleere", "emmetropia", "<", 1],
  ["emmetropia-two-part", "emmetropia", ">", -0.5],
  ["emmetropia-two-part", "emmetropia", "<", 0.5],
];

describe("categories of one eye", () => {
  it.each(equivalents)("%s: %s %s %d", (id, name, relation, limit) => {
    for (const step of [-0.01, 0, 0.01]) {
      const value = Math.round((limit + step) * 100) / 100;
      const meets =
        (relation.includes("=") && step === 0) || (relation.startsWith(">") ? step > 0 : step < 0);
      for (const side of ["right", "left"] as const) {
        const found = of(refractionCategories[id], { [side]: eye(value) }, side);
        expect([value, found.includes(name)]).toEqual([value, meets]);
      }
    }
  });

  it("wants an eye named, and looks at no other", () => {
    const definition = refractionCategories["imi-2019"];
    const child = { right: eye(-3), left: eye(1) };
    expect(() => categorise(definition, child)).toThrow(/requires eye: "right" or "left"/);
    expect(of(definition, child, "left")).toEqual([]);
    expect(categorise(definition, { right: eye(-3) }, { eye: "left" }).categories[0].in).toBe(
      "undecidable",
    );
  });

  it("takes both meridians where the source does", () => {
    // +0.75 and +1.25: not both at +1.00, and not both below
    expect(of(refractionCategories.cleere, { right: eye(1.25, -0.5) }, "right")).toEqual([]);
    expect(of(refractionCategories.cleere, { right: eye(0.75, -0.5) }, "right")).toEqual([
      "emmetropia",
    ]);
    const astigmatic = { right: eye(0.5, -1) };
    expect(of(refractionCategories["emmetropia-two-part"], astigmatic, "right")).toEqual([]);
  });
});

describe("categories of a person", () => {
  it("by the lesser and by the greater error", () => {
    const child = { right: eye(3.5), left: eye(1) };
    expect(of(refractionCategories.bpeds, child)).toEqual([]);
    expect(of(refractionCategories["nhanes-2008"], child)).toEqual(["hyperopia"]);
    const mixed = { right: eye(2), left: eye(-1.5) };
    expect(of(refractionCategories["nhanes-2008"], mixed)).toEqual([]);
    expect(of(refractionCategories.bpeds, mixed)).toEqual(["myopia"]);
    // as far from zero on either side: cannot be told
    const tied = { right: eye(3), left: eye(-3) };
    expect(categorise(refractionCategories.bpeds, tied).categories).toEqual([
      { name: "hyperopia", in: "undecidable" },
      { name: "myopia", in: "undecidable" },
    ]);
  });

  it("by differences, components as twice as common as the cylinder", () => {
    const child = { right: eye(0, -1, 180), left: eye(0, -1, 90) };
    expect(of(refractionCategories["mepeds-anisometropia"], child)).toEqual(["of J0 or J45"]);
    expect(() =>
      categorise(refractionCategories["mepeds-anisometropia"], child, { eye: "right" }),
    ).toThrow(/requires no eye/);
  });

  it("gives columns the categories that each person has", () => {
    const list = [-7, -3, -0.5, -0.49, 0, 2.5].map((sphere) => ({
      right: eye(sphere),
      left: null,
    }));
    const columns = categorise(refractionCategories["imi-2019"], asColumns(list), { eye: "right" });
    expect(columns.categories.map(({ name, codes }) => [name, [...codes]])).toEqual([
      ["myopia", [1, 1, 1, 0, 0, 0]],
      ["high myopia", [1, 0, 0, 0, 0, 0]],
    ]);
    expect(columns.categories[0].counts).toEqual({ yes: 3, no: 3, undecidable: 0 });
  });
});

it("categories say of which eye they are, and of none where they are of a child", () => {
  const child = { right: eye(-7), left: eye(0) };
  const definitions = Object.values(refractionCategories);
  for (const definition of definitions) {
    const ofEye = definition.of === "eye";
    const { eye: said } = categorise(definition, child, ofEye ? { eye: "left" } : {});
    expect(said).toBe(ofEye ? "left" : null);
  }
  expect(new Set(definitions.map((definition) => definition.of === "eye")).size).toBe(2);
});
