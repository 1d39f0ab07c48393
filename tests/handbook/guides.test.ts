import { existsSync, readdirSync, readFileSync } from "node:fs";
import { join, resolve } from "node:path";
import { describe, expect, it } from "vitest";
import { carryOut, exampleLines, meridional } from "../docs/exampleRuns.js";
import { expectShown, shownValue } from "../docs/shownValue.js";

// Guides are pages for readers: what they print is executed, where they point to exists, and
// nothing in them is without a source.

const root = resolve(import.meta.dirname, "../..");
const folder = join(root, "src/handbook/guides");
const textOf = (name: string) => readFileSync(join(folder, `${name}.md`), "utf8");

const names = readdirSync(folder)
  .filter((name) => name.endsWith(".md"))
  .map((name) => name.slice(0, -3))
  .sort();

/** Pages of short entries: no statistics of their own beyond what their links say. */
const lists = ["answers", "glossary", "messages", "recipes"];

const code = (text: string) => [...text.matchAll(/^```ts\n([\s\S]*?)^```$/gm)].map(([, it]) => it!);
const prose = (text: string) => text.replace(/^```[\s\S]*?^```$/gm, "");
const headings = (text: string) => [...text.matchAll(/^## (.+)$/gm)].map(([, it]) => it!);
const slug = (words: string) =>
  words
    .toLowerCase()
    .replace(/[^a-z0-9]+/g, "-")
    .replace(/^-|-$/g, "");

/** All examples of a page as one script: what each expression gave, in order. */
async function valuesOf(text: string) {
  const examples = exampleLines(code(text).join("\n"));
  let done = 0;
  const steps = examples.map(({ before, expression }) => {
    const step = `${before.slice(done)}\nseen.push(await (${expression}\n));`;
    done = before.length;
    return step;
  });
  const script = `const seen = [];\n${steps.join("\n")}`;
  const modules = [...new Set(examples.flatMap((example) => example.modules))];
  const { value } = await carryOut({ before: script, modules, expression: "seen" });
  return examples.map(({ shown }, at) => ({ shown, value: (value as unknown[])[at] }));
}

describe.each(names)("%s", (name) => {
  const text = textOf(name);
  const lines = text.split("\n");

  it("says who reads it and what it answers", () => {
    expect(lines[0]).toMatch(/^# \S/);
    const readers = /^Readers: (.+)$/.exec(lines[1]!)?.[1]?.split(", ") ?? [];
    expect(readers.length).toBeGreaterThan(0);
    expect(["resident", "researcher", "evaluator"]).toEqual(expect.arrayContaining(readers));
    expect(lines[2]).toMatch(/^[A-Z].+\.$/);
    expect(headings(text).length).toBeGreaterThan(1);
  });

  it("prints what its examples give", async () => {
    for (const block of code(text)) expect(block).toContain("// =>");
    const values = await valuesOf(text);
    for (const { shown, value } of values) expectShown(value, shownValue(shown));
    // a message that is quoted is one that came
    const came = values.map(({ value }) => String(value).replace(/\n +/g, " "));
    for (const [, quoted] of text.matchAll(/^> (.+)$/gm)) expect(came).toContain(quoted);
  });

  it("imports what the package gives out", () => {
    const imported = [...text.matchAll(/^import \{ (.+) \} from "meridional";$/gm)].flatMap(
      ([, list]) => list!.split(", "),
    );
    expect(imported.filter((it) => !(it in meridional))).toEqual([]);
    const used = code(text).flatMap((block) =>
      [...block.matchAll(/(?<![.\w])([a-z]\w+)\(/g)].map(([, name]) => name!),
    );
    const notImported = used.filter((it) => it in meridional && !imported.includes(it));
    expect([...new Set(notImported)]).toEqual([]);
    const all = [...text.matchAll(/^import .*$/gm)].map(([line]) => line);
    expect(
      all.filter((line) => !/^import \{ .+ \} from "(meridional|node:\w+)";$/.test(line)),
    ).toEqual([]);
  });

  it("names no function that is not there", () => {
    const quoted = [...prose(text).matchAll(/`([^`\n]+)`/g)].map(([, it]) => it!);
    const functions = quoted
      .map((it) => /^([a-z]\w*)(\(|$)/.exec(it))
      .filter((it) => it !== null && (it[2] === "(" || /[A-Z]/.test(it[1]!)))
      .map((it) => it![1]!);
    const calls = new Set(quoted.map((it) => /^(\w+)\(/.exec(it)?.[1]));
    const unknown = functions.filter(
      (it) => !(it in meridional) && (calls.has(it) || !keys.has(it)),
    );
    expect(unknown).toEqual([]);
  });

  it("points to what exists", () => {
    const links = [...text.matchAll(/\]\((guide|notebook|glossary|figure):([^)]*)\)/g)];
    const missing = links.filter(([, kind, target]) => !targets[kind!]!(target!));
    expect(missing.map(([link]) => link)).toEqual([]);
    const others = [...prose(text).matchAll(/\]\(([^)]+)\)/g)].filter(
      ([, to]) => !/^(guide|notebook|glossary|figure):/.test(to!),
    );
    expect(others.map(([link]) => link)).toEqual([]);
    for (const [, alt] of text.matchAll(/!\[([^\]]*)\]\(figure:/g)) {
      expect(alt!.length).toBeGreaterThan(20);
    }
  });

  it("cites from print, in full", () => {
    expect(text).not.toMatch(/from memory|recalled|as far as (I|we) know|\bTODO\b/i);
    if (lists.includes(name)) return;
    expect(headings(text).at(-1)).toBe("Sources");
    expect(code(text).length).toBeGreaterThan(0);
    const [body, sources] = prose(text).split("\n## Sources\n");
    const listed = sources!.split("\n").filter((line) => line.startsWith("- "));
    expect(listed.length).toBeGreaterThan(0);
    expect(sources!.split("\n").filter((line) => line !== "" && !line.startsWith("- "))).toEqual(
      [],
    );
    for (const [first, year] of citationsOf(body!)) {
      const found = listed.some((line) => line.includes(first) && line.includes(year));
      expect(found, `${first} ${year} among the sources`).toBe(true);
    }
    for (const line of listed) {
      const year = /\b(1[89]|20)\d\d\b/.exec(line)?.[0];
      const known =
        !year || citationsOf(body!).some(([by, at]) => at === year && line.includes(by));
      expect(known, `cited: ${line}`).toBe(true);
    }
  });

  it("shows the caution where it prints accuracy, a threshold or a prediction", () => {
    const prints = printing.some((it) => code(text).some((block) => block.includes(it)));
    if (prints) expect(lines).toContain(":::caution");
    expect(text.match(/^:::.*$/gm)?.every((line) => line === ":::caution") ?? true).toBe(true);
  });
});

describe("the pages of short entries", () => {
  it("have a cell or a page for each entry", () => {
    const recipes = textOf("recipes").split(/^## /m).slice(1);
    expect(recipes.length).toBeGreaterThanOrEqual(25);
    // a recipe has a cell that is executed, or a command that there is
    const commands = readFileSync(join(root, "src/cli/page.ts"), "utf8");
    for (const recipe of recipes) {
      const [, words] = /^```sh\nnpx meridional (page study)/m.exec(recipe) ?? [];
      expect(recipe).toMatch(words ? /^I have / : /^I have [\s\S]+\/\/ =>/);
      for (const word of words?.split(" ") ?? []) expect(commands).toContain(`.command("${word}")`);
    }
    const messages = textOf("messages").split(/^## /m).slice(1);
    expect(messages.filter((entry) => entry.includes("**What to do.**")).length).toBeGreaterThan(
      40,
    );
    expect(headings(textOf("glossary")).length).toBeGreaterThanOrEqual(70);
    const questions = [...textOf("answers").matchAll(/^\| (.+\?) \| (.+) \|$/gm)];
    expect(questions.length).toBeGreaterThanOrEqual(30);
    expect(new Set(questions.map(([, question]) => question)).size).toBe(questions.length);
    for (const [line, , page] of questions) expect(page, line).toMatch(/\]\((guide|notebook):/);
  });

  it("stand in the order of the alphabet in the glossary", () => {
    const terms = headings(textOf("glossary")).map((term) => term.toLowerCase());
    expect(terms).toEqual([...terms].sort((a, b) => a.localeCompare(b)));
    expect(new Set(terms).size).toBe(terms.length);
  });
});

describe("the table of sizes in the guide to planning", () => {
  it("has the numbers that its example gives", async () => {
    const text = textOf("planning");
    const rows = [...text.matchAll(/^\| \d\d % \| (\d+) \| (\d+) \| (\d+) \| (\d+) \|$/gm)];
    const printed = rows.map((row) => row.slice(1).map(Number));
    expect(printed.length).toBe(4);
    const values = (await valuesOf(text)).map(({ value }) => value);
    const cases = printed.map(([first]) => first);
    const screened = printed.map(([, ...rest]) => rest);
    expect(values).toContainEqual(cases);
    expect(values).toContainEqual(screened);
  });
});

describe("coverage in the guides", () => {
  const claims = ["accuracy", "agreement", "thresholds"]
    .map((room) => readFileSync(join(root, "src", room, "README.md"), "utf8"))
    .map((text) => text.split("<!-- grid -->")[1]!.split("<!-- end of grid -->")[0]!)
    .join("\n");

  it("is that of the grid, as the rooms' READMEs have it", () => {
    const lines = names.flatMap((name) =>
      textOf(name)
        .split("\n")
        .filter((line) => / too low/.test(line)),
    );
    expect(lines.length).toBeGreaterThan(9);
    for (const line of lines) {
      for (const [range] of line.matchAll(/\.\d\d to (?:\.\d\d|1\.00)(?!\d)/g)) {
        expect(claims, line).toContain(`${range} in `);
      }
      for (const [, low, cells] of line.matchAll(/(none|\d+) of (\d+) too low/g)) {
        expect(claims, line).toContain(`in ${cells} cells, ${low} too low`);
      }
    }
  });
});

/** First author and year of what stands in brackets, or in a sentence: (Bland and Altman 1986). */
function citationsOf(text: string): [string, string][] {
  const pattern =
    /\b([A-Z][\w-]+)(?:,? (?:and |[A-Z])[\w-]*| others)*,? ((?:1[89]|20)\d\d(?:, (?:1[89]|20)\d\d)*)\b/g;
  return [...text.matchAll(pattern)]
    .filter(([, first]) => !noAuthors.has(first!))
    .flatMap(([, first, years]) =>
      years!.split(", ").map((year): [string, string] => [first!, year]),
    );
}

/** Capital words before a year that are no authors. */
const noAuthors = new Set(["In", "From", "January", "November", "Since", "Until", "Before"]);

/** Calls whose results are accuracy, a threshold or a predicted refraction. */
const printing = [
  "accuracy",
  "Accuracy",
  "Threshold",
  "areaUnderCurve",
  "correctVerification",
  "correctByDecision",
  "predictFinding",
  "greyZone",
  "netBenefit",
  "NetBenefit",
  "predictiveValues",
  "ruleAt",
  "unreadable",
  "verificationBounds",
  "referralYield",
  "tippingPoint",
  "describeProgramme",
];

/** Members of what the package takes and gives, and of its files: options, columns, choices. */
const keys = new Set(
  readdirSync(join(root, "src"), { recursive: true, encoding: "utf8" })
    .filter((file) => file.endsWith(".ts"))
    .flatMap((file) => membersOf(readFileSync(join(root, "src", file), "utf8"))),
);

/** Members of types, and of the schemas of protocols and mappings. */
function membersOf(source: string): string[] {
  return [...source.matchAll(/^\s*(?:readonly )?(\w+)\??: /gm)].map(([, member]) => member!);
}

const targets: { readonly [kind: string]: (name: string) => boolean } = {
  guide: (name) => names.includes(name.split("#")[0]!),
  notebook: (name) => existsSync(join(root, "notebooks", `${name}.ipynb`)),
  figure: (name) => existsSync(join(root, "figures", `${name}.svg`)),
  glossary: (name) =>
    names.includes("glossary") && headings(textOf("glossary")).map(slug).includes(name),
};
