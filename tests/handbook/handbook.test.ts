// The handbook as it is built: every name has its parts, every link leads somewhere, and a search finds.
import { execFileSync } from "node:child_process";
import { existsSync, mkdtempSync, readdirSync, readFileSync, rmSync } from "node:fs";
import { tmpdir } from "node:os";
import { join, resolve } from "node:path";
import MiniSearch from "minisearch";
import { afterAll, beforeAll, describe, expect, it } from "vitest";
import { find, searchOptions } from "../../src/handbook/find.mjs";
import * as face from "../../src/index.js";
import { caution } from "../../src/results/index.js";

const root = resolve(import.meta.dirname, "../..");
/** Every value of the public face. */
const values = new Map<string, unknown>(Object.entries(face));
let folder: string;
const pages = new Map<string, string>();
beforeAll(() => {
  folder = mkdtempSync(join(tmpdir(), "meridional-handbook-"));
  execFileSync(process.execPath, [join(root, "src/handbook/build.mjs"), folder], {
    stdio: "pipe",
  });
  for (const name of readdirSync(folder).filter((one) => one.endsWith(".html"))) {
    pages.set(name, readFileSync(join(folder, name), "utf8"));
  }
});
afterAll(() => rmSync(folder, { recursive: true }));

const reference = () =>
  [...pages].filter(([name]) => name.startsWith("reference-")).map(([, text]) => text);
/** The section of each public name. */
const sections = () =>
  new Map(
    reference().flatMap((text) =>
      [...text.matchAll(/<section class="entry" id="(\w+)">([\s\S]*?)<\/section>/g)].map(
        ([, name, body]): [string, string] => [name!, body!],
      ),
    ),
  );

describe("the reference", () => {
  it("has a section for every name, with what it is and an example that is carried out", () => {
    const all = sections();
    for (const name of values.keys()) {
      const body = all.get(name);
      expect(body, name).toBeDefined();
      expect(body, name).toMatch(/<h4>Example<\/h4><pre/);
    }
    expect(all.size).toBeGreaterThan(values.size);
  });

  it("says of every function what it takes, gives and refuses, and of every field what it means", () => {
    for (const [name, body] of sections()) {
      const value = values.get(name);
      if (typeof value !== "function" || /^class\b/.test(String(value))) continue;
      expect(body, name).toContain("<h4>Gives</h4>");
      expect(body, name).toContain("<h4>Refuses</h4>");
      // a parameter has a note, or a table of its fields
      for (const [, parameter, note] of body.matchAll(
        /<li><code>(\w+)\??<\/code>: <code>.*?<\/code>(.*)<\/li>/g,
      )) {
        const isExplained = note !== "" || body.includes(`Fields of <code>${parameter}</code>`);
        expect(isExplained, `${name}: ${parameter}`).toBe(true);
      }
    }
    for (const text of reference()) {
      expect(text).not.toContain("undefined</td></tr>");
      expect(text.match(/<tr><td><code>\w+\??<\/code><\/td>.*<td><\/td><\/tr>/g) ?? []).toEqual([]);
    }
  });

  it("leads from a name to where it is used, and to its room's methods and sources", () => {
    const body = sections().get("limitsOfAgreement")!;
    expect(body).toContain('<a href="notebook-06-agreement.html">');
    expect(body).toContain('<a href="room-agreement.html">');
  });
});

describe("what is nested and what moved", () => {
  it("explains what a field of a result holds, such as one group", () => {
    const body = sections().get("BiasBy")!;
    expect(body).toContain("In <code>groups</code>");
    const group = /In <code>groups<\/code>[\s\S]*?<\/table>/.exec(body)![0];
    expect(group).toContain("<code>agreement</code>");
    expect(group.match(/<tr>/g)!.length).toBeGreaterThan(3);
  });

  it("shows changes with moved numbers first, every entry once", () => {
    const text = pages.get("changes.html")!;
    const [before, after] = text.split('id="everything-else"');
    const entries = readFileSync(join(root, "CHANGELOG.md"), "utf8").match(/^- /gm)!.length;
    expect(before!.match(/<li>/g)!.length + after!.match(/<li>/g)!.length).toBeGreaterThanOrEqual(
      entries,
    );
    const main = /<main[\s\S]*?id="numbers-that-moved"([\s\S]*)/.exec(before!)![1]!;
    expect(main).toContain("limits of these data move by less than 0.001");
    expect(main).not.toContain("No number moves");
    expect(main.match(/<li>/g)!.length).toBeGreaterThan(4);
  });
});

describe("the README", () => {
  const text = readFileSync(join(root, "README.md"), "utf8");
  it("has three parts of a screen each, the caution before them, and a picture that is there", () => {
    expect([...text.matchAll(/^## (.+)$/gm)].map(([, title]) => title)).toEqual([
      "See it",
      "Run it",
      "Use it",
    ]);
    const [head, ...parts] = text.split(/^## /m);
    expect(head).toContain("Research use only; not a medical device");
    for (const part of parts) expect(part.split("\n").length).toBeLessThan(56);
    const [, picture] = /!\[[^\]]{20,}\]\((.+?)\)/.exec(text)!;
    expect(existsSync(join(root, picture!))).toBe(true);
  });

  it("names commands and folders that there are", () => {
    const { scripts } = JSON.parse(readFileSync(join(root, "package.json"), "utf8"));
    for (const [, script] of text.matchAll(/npm run ([\w:]+)/g))
      expect(scripts).toHaveProperty([script!]);
    const commands = readdirSync(join(root, "src/cli"))
      .map((name) => readFileSync(join(root, "src/cli", name), "utf8"))
      .join("\n");
    for (const [, command] of text.matchAll(/npx meridional (\w+)/g))
      expect(commands).toMatch(new RegExp(`command\\(\\s*"${command}\\b`));
    for (const [, path] of text.matchAll(/`((?:src|figures|notebooks|data|tests)\/[\w./]*)`/g)) {
      expect(existsSync(join(root, path!)), path).toBe(true);
    }
  });
});

describe("the pages", () => {
  it("have no link that leads nowhere", () => {
    const missing: string[] = [];
    for (const [file, text] of pages) {
      for (const [, target] of text.matchAll(/(?:href|src)="([^"]+)"/g)) {
        if (/^(https?:|data:)/.test(target!)) continue;
        const [page, anchor] = target!.split("#");
        const there = page === "" ? text : pages.get(page!);
        const isThere = there !== undefined || existsSync(join(folder, page!));
        const hasAnchor = !anchor || there?.includes(`id="${anchor}"`);
        if (!isThere || !hasAnchor) missing.push(`${file}: ${target}`);
      }
    }
    expect([...new Set(missing)]).toEqual([]);
  });

  it("say the caution, ask nothing of a network, and hold no path of this machine", () => {
    for (const [file, text] of pages) {
      expect(text, file).toContain(caution.slice(0, 60));
      expect(text, file).not.toMatch(/(?:src|href)="(?:https?:)?\/\//);
      expect(text, file).not.toContain(root);
      expect(text, file).toContain("default-src 'none'");
    }
  });

  it("cite what was looked up: nothing is from memory", () => {
    for (const [file, text] of pages) expect(text, file).not.toMatch(/from memory|\brecalled\b/i);
  });

  it("are found by the words that a reader would type", () => {
    const script = readFileSync(join(folder, "search.js"), "utf8");
    const json = JSON.parse(/const searchIndex = (.*);\n/.exec(script)![1]!);
    const index = MiniSearch.loadJSON(json, searchOptions);
    const first = (words: string) => find(index, words).map(({ place }) => place as string);
    expect(first("limitsOfAgreement")[0]).toBe("reference-agreement.html#limitsOfAgreement");
    expect(first("spherical equivalent").slice(0, 5).join()).toContain("#sphericalEquivalent");
    expect(first("net benefit").slice(0, 5).join()).toContain("#netBenefit");
    // as a newcomer typed them
    for (const [words, page] of [
      ["how do I cite", "cite.html"],
      ["sample size sensitivity", "guide-planning.html"],
      ["overfitting", "glossary.html#optimism"],
      ["limitations", "guide-what-it-cannot-say.html"],
      ["publish counts below 11", "guide-public-and-journal.html"],
      ["leading zeros", "guide-dates-and-ids.html"],
      ["untestable children", "guide-unreadable-children.html"],
      ["which interval for a sensitivity of two eyes", "guide-two-eyes-repeats-sites.html"],
      ["which interval for a sensitivity of two eyes", "guide-which-interval.html"],
      ["how many children do I need", "guide-planning.html"],
      ["what does fewer than 11 mean", "guide-public-and-journal.html"],
      ["vertex", "guide-signs-axes-vertex.html#vertex-distance"],
      ["minus or plus cylinder", "guide-signs-axes-vertex.html"],
      ["unreadable", "guide-unreadable-children.html"],
      ["zero-padded ids", "guide-dates-and-ids.html"],
    ]) {
      expect(first(words!).slice(0, 6).join(" "), words).toContain(page);
    }
    // twenty questions of one who had never seen the toolkit: the answer is among the first three
    for (const [words, place] of [
      [
        "interval for sensitivity both eyes",
        "guide-two-eyes-repeats-sites.html#which-interval-for-a-sensitivity-of-both-eyes",
      ],
      ["how many children sensitivity plus minus 5", "guide-planning.html#known-to-five-points"],
      ["fewer than 11", "guide-public-and-journal.html#why-small-counts-are-hidden"],
      ["how to cite", "cite.html"],
      ["convert plus cylinder", "recipes.html#i-have-a-lens-in-plus-cylinder-form"],
      ["vertex distance", "guide-signs-axes-vertex.html#vertex-distance"],
      ["J45 left eye", "guide-signs-axes-vertex.html#j45-and-left-eyes"],
      ["reading failed", "guide-unreadable-children.html"],
      [
        "leading zeros ids do not match",
        "guide-dates-and-ids.html#ids-with-leading-zeros-that-do-not-match",
      ],
      ["date day first", "guide-dates-and-ids.html#day-first-or-month-first"],
      ["only referred children examined sensitivity", "guide-partial-verification.html"],
      ["limits of agreement skewed", "guide-which-interval.html#when-differences-are-skewed"],
      ["choosing vs validating limit", "guide-choosing-or-validating.html"],
      ["2x2 table from abstract", "guide-printed-table-to-two-by-two.html"],
      [
        "compare two schools referral rate",
        "recipes.html#i-have-two-schools-and-compare-their-referral-rates",
      ],
      [
        "hospital computer without installing",
        "recipes.html#i-have-a-hospital-computer-on-which-nothing-may-be-installed",
      ],
      ["what a public report hides", "guide-public-and-journal.html"],
      ["repeatability", "reference-agreement.html#repeatability"],
      [
        "predictive value other prevalence",
        "recipes.html#i-have-a-sensitivity-from-a-paper-and-my-own-prevalence",
      ],
      ["defineColumns requires", "messages.html#requires-a-valid-column-mapping"],
    ]) {
      expect(first(words!).slice(0, 3), words).toContain(place);
    }
  });

  it("show a hit with a sentence, not with a table's line or a sign by its name", () => {
    const script = readFileSync(join(folder, "search.js"), "utf8");
    const json = JSON.parse(/const searchIndex = (.*);\n/.exec(script)![1]!);
    const fields: { place: string; about?: string }[] = Object.values(
      JSON.parse(json).storedFields,
    );
    expect(fields.length).toBeGreaterThan(500);
    const guides = fields.filter(({ place }) => /^(guide-|messages|glossary|recipes)/.test(place));
    for (const { place, about } of guides) expect(about ?? "", place).not.toMatch(/^[|>!`-]|^ts$/);
    for (const { place, about } of fields) expect(about ?? "", place).not.toMatch(/&(quot|#39);/);
    // each leads to the place that it names
    const textOf = new Map(pages);
    for (const { place } of fields) {
      const [page, anchor] = place.split("#") as [string, string | undefined];
      expect(textOf.has(page), place).toBe(true);
      if (anchor !== undefined) expect(textOf.get(page), place).toContain(`id="${anchor}"`);
    }
  });
});
