// The table of sources against itself, and against what the toolkit prints elsewhere.
import { readdirSync, readFileSync } from "node:fs";
import { join } from "node:path";
import { describe, expect, it } from "vitest";
import { analysisUses } from "../../src/citations/analysisUses.js";
import { bibtexEntry } from "../../src/citations/bibtex.js";
import { citationsOf } from "../../src/citations/index.js";
import { methodUses } from "../../src/citations/methodUses.js";
import { familyName, inText, namesInText } from "../../src/citations/source.js";
import { sources } from "../../src/citations/sources/index.js";
import { withoutSource } from "../../src/citations/withoutSource.js";
import { bibtexEntries } from "../builders/bibtexEntries.js";

const all = [...sources.values()];
const files = (folder: string, ending: string) =>
  readdirSync(folder, { recursive: true, encoding: "utf8" })
    .filter((name) => name.endsWith(ending))
    .map((name) => ({ name, text: readFileSync(join(folder, name), "utf8") }));
const readmes = files("src", "README.md");
const guides = files("src/handbook/guides", ".md");
const reportWords = files("src/study/report", ".ts");

describe("the table of sources", () => {
  it("has a key a source, made of its first author and year", () => {
    expect(all.length).toBeGreaterThan(70);
    for (const { key, authors, year } of all) {
      const first = familyName(authors[0]!)
        .normalize("NFD")
        .replace(/[^A-Za-z]/g, "");
      expect(key.toLowerCase(), key).toMatch(new RegExp(`^${first.toLowerCase()}.*${year}`));
    }
  });

  it("gives BibTeX that a strict reader takes, with every member that was looked up", () => {
    const read = bibtexEntries(all.map((source) => bibtexEntry(source)).join("\n"));
    expect(read.map(({ key }) => key)).toEqual(all.map(({ key }) => key));
    for (const [at, { fields }] of read.entries()) {
      const { year, volume, doi, authors } = all[at]!;
      expect(fields.get("year")).toBe(String(year));
      expect(fields.get("volume") ?? null).toBe(volume);
      expect(fields.get("doi") ?? null).toBe(doi);
      expect(fields.get("author")!.split(" and ").length).toBe(authors.length);
      for (const [name, value] of fields) expect(value, `${all[at]!.key}: ${name}`).not.toBe("");
      if (doi !== null) expect(doi).toMatch(/^10\.\d{4,5}\/\S+$/);
    }
    const lee = read.find(({ key }) => key === "rosner2006")!.fields.get("author");
    expect(lee).toBe("Rosner, B. and Glynn, R. J. and Lee, M. L. T.");
  });

  it("is refused by the strict reader where it is damaged", () => {
    const good = bibtexEntry(all[0]!);
    expect(bibtexEntries(good)).toHaveLength(1);
    for (const bad of [
      good.replace("}\n", "\n"),
      good.replace(",\n", "\n"),
      good.replace("year", "volume"),
      good.replace("@article", "@ article"),
      good.replace("Probable", "100% probable"),
      `${good}stray`,
    ]) {
      expect(() => bibtexEntries(bad), bad).toThrow();
    }
  });
});

describe("methods and analyses", () => {
  it("lead to sources that exist, and to every one that no text alone leads to", () => {
    const named = [...methodUses, ...analysisUses].flatMap((use) => use.sources);
    for (const key of named) expect(sources.has(key), key).toBe(true);
    const texts = [...readmes, ...guides, ...reportWords, ...files("src/agreement", ".ts")];
    const unused = all.filter(
      (source) =>
        !named.includes(source.key) && !texts.some(({ text }) => text.includes(inText(source))),
    );
    expect(unused.map(({ key }) => key)).toEqual([]);
  });

  it("stand once: no method has a source and a reason to have none, but by kind", () => {
    const general = methodUses
      .filter(({ kinds }) => kinds === undefined)
      .flatMap(({ methods }) => methods);
    const without = withoutSource.flatMap(({ methods }) => methods);
    expect(new Set(general).size).toBe(general.length);
    expect(new Set(without).size).toBe(without.length);
    expect(general.filter((method) => without.includes(method))).toEqual([]);
  });

  it("know every method that print has a name for", () => {
    const text = readFileSync("src/results/methodName.ts", "utf8");
    const names = [...text.matchAll(/^ {2}"?([a-z][a-z-, ]+)"?:/gm)].map(([, name]) => name!);
    expect(names.length).toBeGreaterThan(40);
    const unknown = names.filter((method) =>
      /recorded/.test(citationsOf({ method }).withoutSource[0]?.reason ?? ""),
    );
    // one has a source in the kinds that use it
    expect(unknown).toEqual(byKindAlone);
  });
});

/** Names that only some kinds of results carry. */
const byKindAlone = ["exact-pair", "fisher-z", "fisher-z-jackknife-clusters"];

describe("what is printed elsewhere", () => {
  it("has the volume and first page of the table", () => {
    const compared = new Set<string>();
    for (const { name, text } of [...guides, ...readmes, ...reportWords]) {
      for (const line of text.split("\n")) {
        for (const source of all) {
          const first = familyName(source.authors[0]!);
          const cited = new RegExp(
            `\\b${first}\\b[^|;]*?${source.year};(?:\\(\\d\\))?(\\w+)(?:\\(\\d+\\))?:(\\w+)`,
          ).exec(line);
          if (!cited || source.volume === null) continue;
          const page = source.pages!.split("-")[0];
          // two papers of one author and year
          const alike = all.filter(
            (other) => other.year === source.year && familyName(other.authors[0]!) === first,
          );
          const pages = alike.map((other) => other.pages!.split("-")[0]);
          expect(pages, `${name}: ${line}`).toContain(cited[2]);
          if (cited[2] !== page) continue;
          // the Lancet counted its volumes by half years
          expect([source.volume, "i"], `${name}: ${line}`).toContain(cited[1]);
          compared.add(source.key);
        }
      }
    }
    expect(compared.size).toBeGreaterThan(30);
  });

  it("names in the report and the guide to methods only what the table knows", () => {
    const known = new Set(all.map((source) => `${namesInText(source.authors)} ${source.year}`));
    const texts = [
      ...reportWords.map(({ text }) => text.replace(/\/\*\*[\s\S]*?\*\//g, "")),
      guides.find(({ name }) => name === "methods-section.md")!.text.split("## Sources")[0]!,
    ];
    const mentions = texts.flatMap((text) =>
      [
        ...text.matchAll(
          /\b([A-Z][\w'é-]+(?:, [A-Z][\w'é-]+)*(?: and [A-Z][\w'é-]+| and others)?),? ((?:19|20)\d\d(?:, (?:19|20)\d\d)*)\b/g,
        ),
      ].flatMap(([, names, years]) => years!.split(", ").map((year) => `${names} ${year}`)),
    );
    expect(mentions.length).toBeGreaterThan(10);
    expect(mentions.filter((one) => !known.has(one) && !notPapers.test(one))).toEqual([]);
  });
});

/** Names of checklists and months. */
const notPapers = /^(STARD|GRRAS|January|STROBE) /;
