import { readFileSync } from "node:fs";
import { describe, expect, it } from "vitest";
import {
  accuracyFromCounts,
  chooseThreshold,
  clusteredAccuracy,
  compareAreas,
  limitsOfAgreement,
} from "../../src/face.js";
import { citationsOf } from "../../src/citations/index.js";
import { bibtexEntries } from "../builders/bibtexEntries.js";

const counts = { truePositive: 40, falsePositive: 20, falseNegative: 10, trueNegative: 130 };
const keys = (result: object) => citationsOf(result).entries.map(({ key }) => key);

describe("citationsOf", () => {
  it("follows the method that was used, not the one that is best known", () => {
    expect(keys(accuracyFromCounts(counts))).toContain("wilson1927");
    const exact = keys(accuracyFromCounts(counts, { interval: "clopper-pearson" }));
    expect(exact).toContain("clopper1934");
    expect(exact).not.toContain("wilson1927");
    const pairs = { test: [1, 2, 4, 3, 5, 2], reference: [1, 3, 3, 3, 6, 2] };
    const alone = keys(limitsOfAgreement(pairs));
    expect(alone).toContain("carkeet2015");
    expect(alone).not.toContain("zou2013");
    const twoEyes = keys(limitsOfAgreement({ ...pairs, subjects: [1, 1, 2, 2, 3, 3] }));
    expect(twoEyes).toContain("zou2013");
    expect(twoEyes).not.toContain("carkeet2015");
  });

  it("tells the source of one word by the analysis: two eyes, areas, a chosen limit", async () => {
    const rows = {
      test: [1, 0, 1, 1, 0, 0],
      reference: [1, 1, 1, 0, 0, 0],
      subjects: [1, 1, 2, 2, 3, 3],
    };
    expect(keys(clusteredAccuracy(rows))).toContain("rao1992");
    const areas = {
      first: [1, 2, 3, 4, 5, 6],
      second: [2, 1, 3, 6, 5, 4],
      condition: [0, 0, 1, 0, 1, 1],
    };
    expect(keys(compareAreas(areas, { positiveWhen: "high" }))).toContain("delong1988");
    const promise = chooseThreshold(
      { values: [1, 2, 3, 4, 5, 6, 7, 8], condition: [0, 0, 0, 1, 0, 1, 1, 1] },
      { positiveWhen: "high", criterion: "youden", seed: 1, replicates: 20 },
    );
    expect(() => citationsOf(promise)).toThrow("await it first");
    const chosen = await promise;
    for (const key of ["youden1950", "efron1983"]) expect(keys(chosen)).toContain(key);
  });

  it("names the toolkit first, as CITATION.cff has it, and each source once", () => {
    const accuracy = accuracyFromCounts(counts);
    const all = citationsOf([accuracy, { nested: { deeper: [accuracy] } }]);
    const [toolkit, ...others] = all.entries;
    const cff = readFileSync("CITATION.cff", "utf8");
    expect(cff).toContain(`title: "${toolkit!.title}"`);
    expect(cff).toContain(`name: ${toolkit!.authors[0]}`);
    expect(all.bibtex).toContain(`version = {${/^version: (.+)$/m.exec(cff)![1]}}`);
    expect(new Set(others.map(({ key }) => key)).size).toBe(others.length);
    expect(all.entries).toEqual(citationsOf(accuracy).entries);
  });

  it("finds what notes name, and published definitions, and asks nothing of settings", () => {
    expect(
      keys({ notes: ["a slope on the reference is an artefact (Bland and Altman 1995)"] }),
    ).toEqual(["meridional", "bland1995"]);
    // a list of years, a bracket, and what only looks alike
    expect(keys({ note: "Bland and Altman 1986, 1999" })).toEqual([
      "meridional",
      "bland1986",
      "bland1999",
    ]);
    expect(keys({ note: "Koopman (1984), McBrown 2001, in 1927 Wilson" })).toEqual([
      "meridional",
      "koopman1984",
    ]);
    const rule = { kind: "rule-decisions", citation: "A {Journal} & more 50% \\ 2019;60:20" };
    const own = citationsOf(rule);
    expect(own.entries.at(-1)!.text).toContain("2019;60:20");
    expect(bibtexEntries(own.bibtex).at(-1)!.fields.get("howpublished")).toContain(
      "\\& more 50\\%",
    );
    expect(citationsOf({ kind: "columns", method: "retinoscopy" }).withoutSource).toEqual([]);
  });

  it("says where no source is recorded, and why a method needs none", () => {
    const found = citationsOf({ method: "t", others: { method: "never heard of" } });
    expect(found.withoutSource).toEqual([
      { method: "t", reason: "in every textbook of statistics" },
      { method: "never heard of", reason: "no source is recorded" },
    ]);
  });
});
