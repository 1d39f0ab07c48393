import { readFile } from "node:fs/promises";
import { Ajv2020 as Ajv } from "ajv/dist/2020.js";
import { describe, expect, it } from "vitest";
import {
  defineProtocol,
  protocolHash,
  protocolJsonSchema,
  ruleOf,
} from "../../src/protocol/index.js";
import { defineRule } from "../../src/rules/index.js";

const children = JSON.parse(await readFile("data/children/protocol.json", "utf8"));
const changed = (change: (draft: typeof children) => void) => {
  const draft = structuredClone(children);
  change(draft);
  return draft;
};

describe("defineProtocol", () => {
  it("takes the protocols of the repository and fills in stated defaults", async () => {
    const protocol = defineProtocol(children);
    expect(protocol.subgroups).toEqual([]);
    expect(protocol.identifiers.allow).toEqual([]);
    const demo = JSON.parse(await readFile("data/demo/protocol.json", "utf8"));
    expect(defineProtocol(demo).audience).toBe("public");
  });

  it.each([
    [
      "a misspelt key",
      (p: typeof children) => (p.unreadible = "pass"),
      /Unrecognized key: "unreadible"/,
    ],
    ["a missing choice", (p: typeof children) => delete p.undecidable, /undecidable: /],
    ["an unknown word", (p: typeof children) => (p.eye = "first"), /eye: /],
    ["a wrong number", (p: typeof children) => (p.level = 95), /level: /],
    [
      "criteria that ask nothing",
      (p: typeof children) => (p.criteria = { note: "soon" }),
      /criteria: criteria without one that asks something/,
    ],
    [
      "criteria in percent",
      (p: typeof children) => (p.criteria = { sensitivityAtLeast: 90 }),
      /criteria\.sensitivityAtLeast: /,
    ],
    [
      "a criterion of no confirmatory condition",
      (p: typeof children) => (p.conditions[0].role = "exploratory"),
      /criteria\.sensitivityAtLeast: asked of confirmatory conditions, of which there is none/,
    ],
    [
      "criteria of an exploratory condition",
      (p: typeof children) => (p.conditions[1].criteria = { specificityAtLeast: 0.5 }),
      /conditions\[1\]\.criteria: an exploratory condition has no verdict/,
    ],
    [
      "a share that is none of the criteria of a condition",
      (p: typeof children) => (p.conditions[0].criteria = { withinAcceptableAtLeast: 0.5 }),
      /Unrecognized key: "withinAcceptableAtLeast"/,
    ],
    ["no condition", (p: typeof children) => (p.conditions = []), /conditions: /],
    [
      "a condition twice",
      (p: typeof children) => p.conditions.push(p.conditions[0]),
      /conditions\[2\]\.id: the id "myopia-3" is used twice/,
    ],
    [
      "a published definition without citation",
      (p: typeof children) => (p.conditions[0].definition = "published"),
      /conditions\[0\]\.citation: /,
    ],
    [
      "limits that look in two directions",
      (p: typeof children) => (p.conditions[0].referWhen.relation = ">="),
      /conditions\[0\]\.referWhen: .*same direction/,
    ],
    [
      "limits on two quantities",
      (p: typeof children) => (p.conditions[0].referWhen.quantity = "J0"),
      /conditions\[0\]\.referWhen: .*target's quantity/,
    ],
    [
      "the worse of one eye",
      (p: typeof children) => (p.eye = "worse"),
      /eye: .*goes with the unit "child"/,
    ],
    [
      "age bands that do not ascend",
      (p: typeof children) => (p.subgroups = [{ by: "age", edgesYears: [8, 6] }]),
      /subgroups\[0\]\.edgesYears: .*ascend/,
    ],
    ["no seed", (p: typeof children) => delete p.seed, /seed: /],
  ])("names %s with its path", (_, change, message) => {
    expect(() => defineProtocol(changed(change))).toThrow(message);
  });

  it("is no file at all", () => {
    expect(() => defineProtocol(null)).toThrow(/\(the whole file\)/);
    expect(() => defineProtocol([])).toThrow(/defineProtocol requires a valid protocol/);
  });
});

const rules = JSON.parse(await readFile("data/demo/rule-protocol.json", "utf8"));
const changedRules = (change: (draft: typeof rules) => void) => {
  const draft = structuredClone(rules);
  change(draft);
  return draft;
};
type Draft = typeof rules;
const limit = { quantity: "M", relation: ">=", limit: 3 };

const text = (path: readonly (string | number)[]) =>
  path
    .map((part) => (typeof part === "number" ? `[${part}]` : `.${part}`))
    .join("")
    .replace(/^\./, "");
/** Every place of a JSON value: the value there, and its path. */
const places = (value: unknown, path: (string | number)[] = []): [unknown, typeof path][] => [
  [value, path],
  ...(Array.isArray(value)
    ? value.flatMap((member, at) => places(member, [...path, at]))
    : value !== null && typeof value === "object"
      ? Object.entries(value).flatMap(([key, member]) => places(member, [...path, key]))
      : []),
];
const at = (root: unknown, path: readonly (string | number)[]) =>
  // biome-ignore lint/suspicious/noExplicitAny: any place of any JSON
  path.reduce<any>((value, part) => value[part], root);
const mistakesOf = (json: unknown): string[] => {
  try {
    defineProtocol(json);
  } catch (error) {
    return (error as Error).message.split("\n").slice(1);
  }
  return [];
};

/** The protocol by rules with a wrong value, or an unknown key, at each place where one can stand. */
const wrongValues = () =>
  places(rules)
    .filter(([value]) => value === null || typeof value !== "object")
    // a mapping may be any object here; defineColumns checks it when the study runs
    .filter(([, path]) => path.at(-1) !== "columns")
    .map(([, path]) => {
      const draft = structuredClone(rules);
      at(draft, path.slice(0, -1))[path.at(-1)!] = { wrong: 1 };
      return { path, draft };
    });
const unknownKeys = () =>
  places(rules)
    .filter(([value]) => value !== null && typeof value === "object" && !Array.isArray(value))
    .filter(([, path]) => path.at(-1) !== "choices")
    .map(([, path]) => {
      const draft = structuredClone(rules);
      at(draft, path).unheardOf = 1;
      return { path, draft };
    });

describe("rules in a protocol", () => {
  it("takes a published definition completed, and an own rule", () => {
    const { conditions } = defineProtocol(rules);
    expect(ruleOf(conditions[0].target, "finding")!.chosen!.length).toBe(3);
    expect(ruleOf(conditions[0].referWhen, "reading")!.id).toBe("invented-referral");
    expect(ruleOf(conditions[1].referWhen, "reading")).toBe(null);
    // a published definition whose limits refer by the reading is the study's own choice, and says so
    const own = ruleOf({ published: "abnormal-refraction-bjo" }, "reading")!;
    expect([own.definition, own.citation, own.appliesTo]).toEqual(["own", undefined, "reading"]);
    expect(own.note).toContain("this study's own choice");
    expect(defineRule(JSON.parse(JSON.stringify(own))).id).toBe("abnormal-refraction-bjo");
  });

  it.each([
    [
      "an unknown published id",
      (p: Draft) => (p.conditions[0].target = { published: "aapos" }),
      /conditions\[0\]\.target\.published: .*"aapos-2013"/,
    ],
    [
      "a choice left out",
      (p: Draft) => delete p.conditions[0].target.choices.myopiaQuantity,
      /conditions\[0\]\.target\.choices: requires myopiaQuantity .* got none/,
    ],
    [
      "a choice that is none of the options",
      (p: Draft) => (p.conditions[0].target.choices.myopiaQuantity = "J0"),
      /conditions\[0\]\.target\.choices: requires myopiaQuantity .* got J0/,
    ],
    [
      "a choice that nobody asked for",
      (p: Draft) => (p.conditions[0].target.choices.eye = "right"),
      /conditions\[0\]\.target\.choices: requires choices among .* got eye/,
    ],
    [
      "choices for a definition that leaves nothing open",
      (p: Draft) =>
        (p.conditions[0].target = { published: "abnormal-refraction-bjo", choices: { a: "b" } }),
      /conditions\[0\]\.target\.choices: requires no choices .* got a/,
    ],
    [
      "a misspelt key of a limit",
      (p: Draft) => (p.conditions[1].referWhen = { quantity: "M", relation: ">=", limits: 3 }),
      /conditions\[1\]\.referWhen: Unrecognized key: "limits"/,
    ],
    [
      "a relation that is none, in a limit",
      (p: Draft) => (p.conditions[1].referWhen.relation = "=>"),
      /conditions\[1\]\.referWhen\.relation: /,
    ],
    [
      "a misspelt key within a rule",
      (p: Draft) => (p.conditions[0].referWhen.bands[1].referWhen[2].eyes = "either"),
      /conditions\[0\]\.referWhen\.bands\[1\]\.referWhen\[2\]: Unrecognized key: "eyes"/,
    ],
    [
      "a limit of a rule without its eye",
      (p: Draft) => delete p.conditions[0].referWhen.bands[0].referWhen[1].eye,
      /conditions\[0\]\.referWhen\.bands\[0\]\.referWhen\[1\]: an eye is required/,
    ],
    [
      "bands with a gap",
      (p: Draft) => (p.conditions[0].referWhen.bands[1].ageMonths = [61, null]),
      /conditions\[0\]\.referWhen\.bands\[1\]\.ageMonths: there is a gap between 60 and 61/,
    ],
    [
      "a rule that can never be true",
      (p: Draft) => {
        const [above] = p.conditions[1].target.referWhen;
        p.conditions[1].target.referWhen = [
          { allOf: [above, { ...above, eye: "both", relation: "<", limit: 2 }] },
        ];
      },
      /conditions\[1\]\.target\.referWhen\[0\].*: this can never be true/,
    ],
    [
      "a rule of findings that refers",
      (p: Draft) => (p.conditions[0].referWhen.appliesTo = "finding"),
      /conditions\[0\]\.referWhen\.appliesTo: this side is about a reading/,
    ],
    [
      "a published definition that a reading cannot meet",
      (p: Draft) => (p.conditions[0].referWhen = p.conditions[0].target),
      /conditions\[0\]\.referWhen\.published: a reading has no media opacity/,
    ],
    [
      "a rule with eyes as rows",
      (p: Draft) => {
        p.unit = "eye";
        p.eye = "right";
      },
      /conditions\[0\]\.target: a rule is decided by child/,
    ],
    [
      "a published rule called an own one",
      (p: Draft) => (p.conditions[0].definition = "own"),
      /conditions\[0\]\.definition: the rule of the target is "published"/,
    ],
    [
      "an own rule called published",
      (p: Draft) => {
        p.conditions[1].definition = "published";
        p.conditions[1].citation = "nobody";
      },
      /conditions\[1\]\.definition: the rule of the target is "own"/,
    ],
    [
      "a limit to be chosen where a rule refers",
      (p: Draft) => (p.conditions[0].choose = { criterion: "youden" }),
      /conditions\[0\]\.choose: .*here a rule refers/,
    ],
    [
      "a limit to be chosen for a target of several conditions",
      (p: Draft) => {
        p.conditions[0].referWhen = limit;
        p.conditions[0].choose = { criterion: "youden" };
      },
      /conditions\[0\]\.choose: .*the target joins hyperopia, myopia, astigmatism, anisometropia, media opacity/,
    ],
    [
      "a limit that looks away from the target's rule",
      (p: Draft) => (p.conditions[1].referWhen = { ...limit, relation: "<=" }),
      /conditions\[1\]\.referWhen: .*direction of the target's rule/,
    ],
    [
      "a criterion to choose by that is none",
      (p: Draft) => (p.conditions[1].choose = { criterion: { sensitivityAtLeast: 95 } }),
      /conditions\[1\]\.choose\.criterion\.sensitivityAtLeast: /,
    ],
    [
      "a state of cycloplegia that is none",
      (p: Draft) => (p.referenceStandard.cycloplegia = ["drops"]),
      /referenceStandard\.cycloplegia\[0\]: /,
    ],
    [
      "no state of cycloplegia at all",
      (p: Draft) => (p.referenceStandard.cycloplegia = []),
      /referenceStandard\.cycloplegia: /,
    ],
    [
      "a role of a subgroup that is none",
      (p: Draft) => (p.subgroups[0].role = "planned"),
      /subgroups\[0\]\.role: /,
    ],
    [
      "strata of verification where everyone was examined",
      (p: Draft) => (p.verification = "complete"),
      /verificationStrata: .*goes with verification "partial"/,
    ],
    [
      "strata whose edges do not ascend",
      (p: Draft) => (p.verificationStrata.edgesYears = [6, 5]),
      /verificationStrata\.edgesYears: .*ascend/,
    ],
    [
      "a form of report that is none",
      (p: Draft) => (p.outputs = ["html", "slides"]),
      /outputs\[1\]: /,
    ],
    ["an exam that is none", (p: Draft) => (p.linkage.exam = "best"), /linkage\.exam: /],
    [
      "columns that are neither a path nor a mapping",
      (p: Draft) => (p.sources.readings.columns = 3),
      /sources\.readings\.columns: /,
    ],
    ["a wrong window of days", (p: Draft) => (p.linkage.daysBetween = [0]), /linkage\.daysBetween/],
    ["both eyes of a child as one", (p: Draft) => (p.eye = "both"), /eye: .*one value a child/],
    [
      "an id with spaces",
      (p: Draft) => (p.conditions[0].id = "risk factors"),
      /conditions\[0\]\.id: an id has small letters/,
    ],
  ])("names %s with its path", (_, change, message) => {
    expect(() => defineProtocol(changedRules(change))).toThrow(message);
  });

  it("names the place of a value of the wrong kind, wherever it stands", () => {
    expect(wrongValues().length).toBeGreaterThan(100);
    for (const { path, draft } of wrongValues()) {
      const found = mistakesOf(draft);
      const named = [text(path), text(path.slice(0, -1))].filter((name) => name !== "");
      expect(
        found.some((line) => named.some((name) => line.startsWith(`  ${name}`))),
        `${text(path)}: ${found.join("; ")}`,
      ).toBe(true);
    }
  });

  it("names an unknown key, wherever it stands", () => {
    expect(unknownKeys().length).toBeGreaterThan(25);
    for (const { path, draft } of unknownKeys()) {
      const [line] = mistakesOf(draft);
      const place = path.length === 0 ? "(the whole file)" : text(path);
      expect(line).toContain(`${place}: Unrecognized key: "unheardOf"`);
    }
  });

  it("says each mistake once, and no other", () => {
    const two = changedRules((p) => {
      p.conditions[0].referWhen.bands[0].referWhen[0].relation = "=>";
      p.conditions[1].referWhen.quantity = "S";
    });
    const message = (() => {
      try {
        defineProtocol(two);
      } catch (error) {
        return (error as Error).message;
      }
    })()!;
    expect(message.split("\n").length).toBe(3);
  });
});

describe("protocolHash", () => {
  it("follows the choices and nothing else", () => {
    const hash = protocolHash(defineProtocol(children));
    const reordered = Object.fromEntries(Object.entries(children).reverse());
    expect(protocolHash(defineProtocol(reordered))).toBe(hash);
    expect(
      protocolHash(defineProtocol(changed((p) => (p.conditions[0].note = "another note")))),
    ).toBe(hash);
    expect(
      protocolHash(defineProtocol(changed((p) => (p.conditions[0].referWhen.limit = -2.75)))),
    ).not.toBe(hash);
  });
});

describe("protocolJsonSchema", () => {
  it("describes every choice for an editor", () => {
    const schema = protocolJsonSchema() as {
      properties: { [key: string]: { description?: string } };
    };
    expect(Object.keys(schema.properties)).toContain("undecidable");
    expect(schema.properties.undecidable.description).toContain("without a usable reading");
  });

  it("agrees with the schema on whole protocols, and on which keys there are", async () => {
    const validate = new Ajv({ strict: false }).compile(protocolJsonSchema());
    for (const path of ["children/protocol", "demo/protocol", "demo/rule-protocol"]) {
      const json = JSON.parse(await readFile(`data/${path}.json`, "utf8"));
      expect([path, validate(json), validate.errors]).toEqual([path, true, null]);
    }
    // an editor that checks while one types finds what defineProtocol finds, in the rules as well
    for (const { path, draft } of [...wrongValues(), ...unknownKeys()]) {
      expect([text(path), validate(draft)]).toEqual([text(path), false]);
    }
    const joined = changedRules((p) => {
      const [first, second] = p.conditions[0].referWhen.bands[0].referWhen;
      p.conditions[0].referWhen.bands[0].referWhen = {
        allOf: [first, { not: second }, { anyOf: [[first], { subRule: "far" }] }],
      };
      p.conditions[0].referWhen.subRules = { far: first };
    });
    expect(validate(joined)).toBe(true);
    expect(defineProtocol(joined).conditions.length).toBe(2);
  });
});
