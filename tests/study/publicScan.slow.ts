import { mkdtemp, readdir, readFile, rm } from "node:fs/promises";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { parse as parseCsv } from "csv-parse/sync";
import Zip from "jszip";
import { afterAll, beforeAll, describe, expect, it } from "vitest";
import { defineProtocol } from "../../src/protocol/index.js";
import { runStudy, type StudyResult, studyReport, writeReport } from "../../src/study/index.js";
import { demoPart } from "../builders/demoPart.js";
import { inFull } from "../builders/inFull.js";
import { readPdf } from "../builders/readPdf.js";
import { found, studies, studyNumbers } from "./publicFindings.js";

// Every file of a public report outside confidential/, as text: no id, no date of the data and no
// full prescription of a child. Another program reads the PDF in publicScan.outside.ts.
let folder: string;
const results: Record<string, StudyResult> = {};
beforeAll(async () => {
  folder = await mkdtemp(join(tmpdir(), "meridional-public-"));
});
afterAll(() => rm(folder, { recursive: true, force: true }));

/** Of the demo a third of its children in `npm test`. */
async function dataOf(name: string): Promise<string> {
  if (name !== "demo" || inFull(false, true)) return `data/${name}`;
  const part = await mkdtemp(join(folder, "demo-"));
  await demoPart(part);
  return part;
}

/** Every text of a report's open files. */
async function textsOf(report: string): Promise<[path: string, text: string][]> {
  const paths = (await readdir(report, { recursive: true, withFileTypes: true }))
    .filter((entry) => entry.isFile())
    .map((entry) => join(entry.parentPath, entry.name));
  const texts: [string, string][] = [];
  for (const path of paths) {
    const bytes = await readFile(path);
    if (/\.(docx|xlsx)$/.test(path)) {
      for (const part of Object.values((await Zip.loadAsync(bytes)).files)) {
        if (/\.(xml|rels)$/.test(part.name)) {
          texts.push([`${path}/${part.name}`, withoutFixedDate(await part.async("string"))]);
        } else expect(part.name, "a part of no kind known here").toMatch(/\.png$|\/$/);
      }
    } else if (path.endsWith(".pdf")) {
      const { pages, title, alternatives, outline, dates } = readPdf(bytes);
      texts.push([path, [title, ...pages, ...alternatives, ...outline].join("\n")]);
      expect(new Set(dates)).toEqual(new Set(["19800101000000Z"]));
    } else if (path.endsWith(".png")) {
      // no chunk that holds text (PNG specification, 11.3.3)
      expect(bytes.toString("latin1"), path).not.toMatch(/tEXt|zTXt|iTXt|eXIf/);
    } else if (path.endsWith("manifest.json")) {
      const { written, ...rest } = JSON.parse(bytes.toString("utf8"));
      expect(typeof written).toBe("string");
      texts.push([path, JSON.stringify(rest)]);
    } else texts.push([path, bytes.toString("utf8")]);
  }
  return texts;
}

/** Without the constant that stands in a Word file for the clock's date, and the names of schemas. */
function withoutFixedDate(xml: string): string {
  return xml.replaceAll("1980-01-01T00:00:00Z", "").replace(/ xmlns:?\w*="[^"]*"/g, "");
}

describe("the scan", () => {
  it("finds an id, dates and prescriptions where they are", () => {
    const ids = new Set(["D00012", "C001"]);
    expect(found("child D00012 and C001, not C002", ids)).toEqual(["D00012", "C001"]);
    for (const text of [
      "seen 2021-03-04 at school",
      "on 4/3/2021.",
      "on 4 March 2021",
      "right −2.00 −1.25 × 175",
      "right -2.00/-1.25x175",
      "+1.50 -0.50 axis 90",
      "plus 1.5 -0.5 @ 5",
    ]) {
      expect(found(text, ids), text).toHaveLength(1);
    }
    expect(found("bias −0.21 D (−0.33 to −0.08), 0.50 by 0.50, 12/13", ids)).toEqual([]);
  });
});

describe.each(studies)("the public report of the %s study", (name, file, column) => {
  it("holds no id, no date and no prescription in any open file", async () => {
    const json = JSON.parse(await readFile(`data/${name}/protocol.json`, "utf8"));
    const protocol = defineProtocol({ ...json, audience: "public", replicates: 60 });
    const report = join(folder, name);
    const data = await dataOf(name);
    results[name] = await runStudy(protocol, { folder: data });
    await writeReport(results[name], report);
    const ids = await studyNumbers(join(data, file), column);
    expect(ids.size).toBeGreaterThan(500);
    const texts = await textsOf(report);
    const kinds = new Set(texts.map(([path]) => /\.\w+$/.exec(path)?.[0]));
    expect([...kinds].sort()).toEqual([
      ".bib",
      ".csv",
      ".html",
      ".json",
      ".md",
      ".pdf",
      ".rels",
      ".svg",
      ".xml",
    ]);
    expect(texts.filter(([path]) => path.includes("report.pdf")).length).toBeGreaterThan(0);
    for (const [path, text] of texts) expect(found(text, ids), path).toEqual([]);
    // the ids are where they may be, so that the scan has something to find
    const lines = (await readFile(join(data, file), "utf8")).split("\n").slice(1, 51);
    expect(found(lines.join("\n"), ids).length).toBeGreaterThan(40);
  });
});

describe("the public report of the demo programme", () => {
  it("has coarse counts alone, its programme's too, in the page, the tables and the workbook", async () => {
    const report = await readFile(join(folder, "demo", "report.md"), "utf8");
    const counts = [...report.matchAll(/^\| (?:Referred|Passed|All)[^|]*\|(.*)\|$/gm)].map(
      ([, cells]) => cells!.split("|").map((cell) => cell.trim()),
    );
    expect(counts.length).toBeGreaterThan(2);
    const printed = /^(fewer than 11|[\d,]*[05]|[\d,]+ to [\d,]+|)$/;
    const rate = /^(\d+( to \d+)?( %)? \(\d+( to \d+)?\)|not estimated|)$/;
    for (const row of counts) {
      // a row of the programme's figures ends with its rate
      const isRate = rate.test(row.at(-1)!);
      for (const cell of isRate ? row.slice(0, -1) : row) expect(cell).toMatch(printed);
    }
    const files = await readdir(join(folder, "demo", "tables"));
    const own = files.filter((name) => name.startsWith("the-programme-in-figures"));
    expect(own.length).toBe(3);
    expect(files).toContain("programme.xlsx");
    for (const name of own) {
      const text = await readFile(join(folder, "demo", "tables", name), "utf8");
      const lines: string[][] = parseCsv(text);
      expect(lines.filter(([first]) => first === "Referred").length).toBe(1);
      for (const [, children, of, range] of lines.slice(1)) {
        expect(children).toMatch(printed);
        expect(of).toMatch(printed);
        expect(range).toMatch(rate);
      }
    }
    // a departure now and then, against the rule that the protocol declares
    expect(report).toContain("| Decisions that depart from the declared rule |");
    for (const left of ["baseline table", "page on which the limit is moved", "limit chosen"]) {
      expect(report.slice(report.indexOf("## What the public form leaves out"))).toContain(left);
    }
    // the share of differences within the acceptable one, in coarse counts
    expect(files).toContain("differences-within-0-50-d-stated-in-advance-among-the-examined.csv");
    // partial verification: corrected, never naive; a chosen limit too
    const journal = studyReport({
      ...results.demo!,
      protocol: { ...results.demo!.protocol, audience: "journal" },
    });
    const titles = journal.sections.flatMap(({ blocks }) =>
      blocks.flatMap((block) => (block.kind === "table" ? [block.title] : [])),
    );
    expect(titles.filter((title) => title.startsWith("Limit chosen"))).toEqual([
      "Limit chosen on these data, weighted for who was examined: Hyperopia of 4.00 D or more in either eye",
    ]);
    const corrected = results.demo!.conditions[0]!.verification?.corrected;
    expect(corrected?.sensitivity.kind).toBe("estimate");
    expect(results.demo!.conditions[0]!.accuracy.sensitivity.kind).toBe("undefined");
  });
});
