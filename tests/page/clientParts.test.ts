import { zipSync } from "fflate";
import { describe, expect, it } from "vitest";
import { columnsJsonSchema } from "../../src/cohort/index.js";
import { carriedOver } from "../../src/page/client/carryOver.js";
import { inWords } from "../../src/page/client/plainWords.js";
import { perCentOf, sharesOf } from "../../src/page/client/prevalences.js";
import { deciderOf, keepDecider, setDecider } from "../../src/page/client/programme.js";
import { protocolInWords } from "../../src/page/client/protocolInWords.js";
import { shareDone } from "../../src/page/client/shareDone.js";
import { taken } from "../../src/page/client/takeFiles.js";
import { openWords, stillOpen, withoutLimits } from "../../src/page/client/unwritten.js";
import { codesOf, keyOfColumn, setCode, wordColumns } from "../../src/page/client/wordMeanings.js";
import { defineProtocol } from "../../src/protocol/index.js";

// biome-ignore lint/suspicious/noExplicitAny: JSON that a person edits
type Json = any;

const protocol = (): Json => ({
  kind: "protocol",
  version: 1,
  title: "To be written",
  question: "To be written: the question",
  audience: "public",
  sources: {
    readings: { file: "readings.csv", columns: "columns.json" },
    findings: { file: "findings.csv", columns: "columns.json" },
  },
  indexTest: {
    instrument: "screening",
    cycloplegia: "none",
    description: "to be written",
    repeats: "first",
  },
  referenceStandard: { equivalent: "computed", description: "invented" },
  linkage: {},
  eligibility: {},
  unit: "child",
  eye: "worse",
  conditions: [
    {
      id: "main",
      title: "invented",
      definition: "own",
      role: "confirmatory",
      target: { quantity: "M", relation: "<=", limit: -1, note: "look" },
      referWhen: { quantity: "M", relation: "<=", limit: -1, note: "look" },
    },
  ],
  undecidable: "refer",
  verification: "partial",
  sampling: "cohort",
  acceptableDifference: 0.5,
  seed: 1,
});
const withReason = (codes: object): Json => ({
  columns: { subject: "child" },
  findings: [
    { columns: { sphere: "Sphere", verificationReason: "Reason" }, verificationReason: { codes } },
  ],
});

describe("what the page keeps when a draft is made anew", () => {
  it("is what a person changed, upon what nobody changed", () => {
    const drafted = { protocol: protocol(), columns: withReason({ referral: "referred" }) };
    const mine = {
      protocol: { ...protocol(), title: "Mine", criteria: { sensitivityAtLeast: 0.9 } },
      columns: withReason({ referral: "referred", "GP letter": "self-presented" }),
    };
    const fresh = {
      protocol: {
        ...protocol(),
        indexTest: { ...protocol().indexTest, instrument: "another" },
        sources: { ...protocol().sources, readings: { file: "new.csv", columns: "columns.json" } },
      },
      columns: { ...withReason({ referral: "referred" }), age: "months" },
    };
    const { protocol: now, columns, lost } = carriedOver(drafted, mine, fresh);
    expect(now.title).toBe("Mine");
    expect(now.criteria).toEqual({ sensitivityAtLeast: 0.9 });
    expect(now.indexTest.instrument).toBe("another");
    expect(now.sources.readings.file).toBe("new.csv");
    expect(columns.age).toBe("months");
    expect(columns.findings[0].verificationReason.codes).toEqual({
      referral: "referred",
      "GP letter": "self-presented",
    });
    expect(lost).toEqual([]);
  });

  it("is not what has no place any more: it is said", () => {
    const drafted = { protocol: protocol(), columns: withReason({}) };
    const mine = { protocol: protocol(), columns: withReason({ "GP letter": "self-presented" }) };
    const gone = {
      columns: { subject: "child" },
      findings: [{ columns: { sphere: "Sphere" }, verificationReason: "unknown" }],
    };
    const { columns, lost } = carriedOver(drafted, mine, { protocol: protocol(), columns: gone });
    expect(columns).toEqual(gone);
    expect(lost).toEqual(['why children were examined ("GP letter")']);
  });
});

describe("words of columns", () => {
  it("have menus whose values the mapping's schema knows", () => {
    const schema = JSON.stringify(columnsJsonSchema());
    for (const { meanings } of Object.values(wordColumns)) {
      for (const [value] of meanings) expect(schema).toContain(`"${value}"`);
    }
    const findings: Json = (columnsJsonSchema() as Json).properties.findings.items.properties;
    expect(JSON.stringify(findings.verificationReason)).toContain(
      JSON.stringify(wordColumns.verificationReason.meanings.map(([value]) => value)),
    );
  });

  it("are said in every block that reads the column", () => {
    const { findings } = withReason({ referral: "referred" });
    expect(keyOfColumn(findings, "Reason")).toBe("verificationReason");
    expect(keyOfColumn(findings, "Sphere")).toBeNull();
    setCode(findings, "verificationReason", "follow-up", "unknown");
    expect(codesOf(findings, "verificationReason")).toEqual({
      referral: "referred",
      "follow-up": "unknown",
    });
  });
});

describe("a protocol on the page", () => {
  it("begins without limits, which are listed as open", () => {
    const empty = withoutLimits(protocol());
    expect(empty.conditions[0].target).toEqual({ quantity: "M", note: "look" });
    const open = stillOpen(empty, [], "");
    expect(openWords(open.filter(({ isNeeded }) => isNeeded))).toBe(
      "Still to be written: the limit at the exam, the limit of the referral.",
    );
    expect(open.at(-1)?.words).toBe("how the programme decided whom to refer");
    expect(stillOpen(protocol(), [], "unknown").every(({ isNeeded }) => !isNeeded)).toBe(true);
  });

  it("says how the programme decided, and takes it back where all were examined", () => {
    const own = protocol();
    expect(deciderOf(own, null)).toBe("");
    expect(deciderOf(own, { readings: [{ columns: { programmeDecision: "Result" } }] })).toBe(
      "recorded",
    );
    setDecider(own, "studied");
    expect(deciderOf(own, null)).toBe("studied");
    own.conditions[0].referWhen.limit = -2;
    keepDecider(own, "studied");
    expect(own.programme.referWhen.limit).toBe(-2);
    expect(() => defineProtocol(own)).not.toThrow();
    own.verification = "complete";
    keepDecider(own, "studied");
    expect(own.programme).toBeUndefined();
    expect(() => defineProtocol(own)).not.toThrow();
    own.verification = "partial";
    keepDecider(own, "limit");
    expect(own.programme.referWhen).toEqual({ quantity: "M" });
  });

  it("takes shares as per cent and gives them back as typed", () => {
    expect(sharesOf("2, 7.5; 10 %")).toEqual([0.02, 0.075, 0.1]);
    expect(sharesOf(" ")).toEqual([]);
    for (const text of ["often", "0", "100", "1,2,3,4,5,6,7"]) expect(sharesOf(text)).toBeNull();
    for (const text of ["7", "0.1, 14, 28, 29, 57"]) expect(perCentOf(sharesOf(text))).toBe(text);
  });

  it("is read out with condition, referral, retries, who was examined and criteria", () => {
    const lines = protocolInWords(
      {
        ...protocol(),
        criteria: { sensitivityAtLeast: 0.9 },
        eligibility: { ageMonths: [36, 84] },
        linkage: { note: "look" },
      },
      { published: [], columns: null, decider: "unknown" },
    ).join("\n");
    for (const words of [
      "at the exam, M ≤ -1 D",
      "Referred by the reading: M ≤ -1 D",
      "without drops; of several of an eye, the first counts",
      "Examined of those who passed: some of them",
      "The programme referred: that is not known",
      "sensitivity of at least 0.9",
      "Further choices, in the text of the protocol: ages\n",
    ]) {
      expect(lines).toContain(words);
    }
  });

  it("is refused in words that name a field, and no key", () => {
    const refused = (wrong: Json): string => {
      try {
        defineProtocol(wrong);
      } catch (error) {
        return inWords((error as Error).message);
      }
      throw new Error("it was taken");
    };
    const open = protocol();
    open.conditions[0].target = { published: "aapos-2013", choices: {} };
    open.conditions[0].definition = "published";
    expect(refused(open)).toMatch(
      /^The protocol is not complete: "What the published definition of the condition leaves open": please say: /,
    );
    const several = protocol();
    several.conditions[0].prevalences = "often";
    delete several.conditions[0].target.limit;
    const said = refused(several);
    expect(said).toContain('"How common the condition is"');
    expect(said).toContain('"The limit at the exam"');
    expect(said).not.toMatch(/conditions\[|prevalences|valid protocol/);
  });
});

describe("a run", () => {
  it("goes forward over the study, the figures and the report", () => {
    const at = [
      shareDone("main", 0.5),
      shareDone("done", 1),
      shareDone("drawing the figures", 0),
      shareDone("drawing the figures", 0.5),
      shareDone("writing the report", 0),
      shareDone("writing the report", 1),
    ];
    expect(at).toEqual(at.toSorted((one, other) => one - other));
    expect(at.at(-1)).toBe(1);
  });
});

describe("files that are brought", () => {
  const bytes = (text: string) => new TextEncoder().encode(text);

  it("are refused one by one, by their first bytes", () => {
    const { files, refused } = taken(
      new Map([
        ["minutes.pdf", bytes("%PDF-1.7\n1 0 obj\n")],
        ["a.csv", bytes("a,b\n1,2\n")],
        ["photo.png", new Uint8Array([0x89, 0x50, 0x4e, 0x47, 13, 10, 26, 10])],
      ]),
      1000,
    );
    expect([...files.keys()]).toEqual(["a.csv"]);
    expect(refused.map((why) => /\((.*)\)/.exec(why)?.[1])).toEqual(["minutes.pdf", "photo.png"]);
  });

  it("come out of a ZIP, which is refused where it is none or holds nothing", () => {
    const zip = zipSync({
      "my-study/readings.csv": bytes("a"),
      "tables/x.csv": bytes("b"),
      "figure.svg": bytes("c"),
    });
    const take = (name: string, content: Uint8Array) => taken(new Map([[name, content]]), 1000);
    expect([...take("a.zip", zip).files.keys()]).toEqual(["readings.csv"]);
    expect(take("a.zip", bytes("PK no zip")).refused[0]).toContain("a.zip is no intact ZIP");
    expect(take("a.zip", zipSync({ "x.svg": bytes("c") })).refused[0]).toContain(
      "holds no file of a study",
    );
    const large = zipSync({ "x.csv": new Uint8Array(5000) });
    expect(take("a.zip", large).refused[0]).toContain("more than a page takes");
    const twice = zipSync({ "a/x.csv": bytes("1"), "b/x.csv": bytes("2") });
    expect(take("a.zip", twice).refused[0]).toContain("several files of one name");
  });
});
