import { execFileSync } from "node:child_process";
import { existsSync } from "node:fs";
import { mkdtemp, readdir, readFile, rm } from "node:fs/promises";
import { tmpdir } from "node:os";
import { join } from "node:path";
import Zip from "jszip";
import { afterAll, beforeAll, describe, expect, it } from "vitest";
import { defineProtocol } from "../../src/protocol/index.js";
import { runStudy, writeReport } from "../../src/study/index.js";
import { readPdf } from "./readPdf.js";

// Every file of a public report outside confidential/, as text: no id, no date of the data and no
// full prescription of a child. Debian's pdftotext reads the PDF beside our own reader.
const textReader = "/usr/bin/pdftotext";
let folder: string;
beforeAll(async () => {
  folder = await mkdtemp(join(tmpdir(), "meridional-public-"));
});
afterAll(() => rm(folder, { recursive: true, force: true }));

/** What must not leave with a report, as it was found in a text. */
function found(text: string, ids: ReadonlySet<string>): string[] {
  const plain = text.replaceAll("−", "-").replace(/&#x2212;|&minus;/g, "-");
  const months = "jan|feb|mar|apr|may|jun|jul|aug|sep|oct|nov|dec";
  const patterns = [
    /\b(19|20)\d\d[-/.](0?[1-9]|1[0-2])[-/.]\d{1,2}\b/g,
    /\b\d{1,2}[-/.]\d{1,2}[-/.](19|20)\d\d\b/g,
    new RegExp(`\\b\\d{1,2}\\.? (${months})[a-z]*\\.? (19|20)\\d\\d\\b`, "gi"),
    // sphere, cylinder and axis in clinic notation, with or without signs and separators
    /[+-]?\d+\.\d\d? ?[/,;]? ?[+-]\d+\.\d\d? ?(x|×|@|\*|axis|ax|\/) ?\d{1,3}\b/gi,
  ];
  return [
    ...[...plain.matchAll(/[A-Za-z]+\d+/g)].map(([word]) => word).filter((word) => ids.has(word)),
    ...patterns.flatMap((pattern) => [...plain.matchAll(pattern)].map(([match]) => match)),
  ];
}

/** Every text of a report's open files. */
async function textsOf(report: string): Promise<[path: string, text: string][]> {
  const paths = (await readdir(report, { recursive: true, withFileTypes: true }))
    .filter((entry) => entry.isFile())
    .map((entry) => join(entry.parentPath, entry.name))
    .filter((path) => !path.includes("confidential"));
  const texts: [string, string][] = [];
  for (const path of paths) {
    const bytes = await readFile(path);
    if (path.endsWith(".docx")) {
      for (const part of Object.values((await Zip.loadAsync(bytes)).files)) {
        if (/\.(xml|rels)$/.test(part.name)) {
          texts.push([`${path}/${part.name}`, withoutFixedDate(await part.async("string"))]);
        } else expect(part.name, "a part of no kind known here").toMatch(/\.png$|\/$/);
      }
    } else if (path.endsWith(".pdf")) {
      const { pages, title, alternatives, outline, dates } = readPdf(bytes);
      texts.push([path, [title, ...pages, ...alternatives, ...outline].join("\n")]);
      expect(new Set(dates)).toEqual(new Set(["19800101000000Z"]));
      if (existsSync(textReader)) {
        texts.push([path, execFileSync(textReader, ["-raw", path, "-"], { encoding: "utf8" })]);
      } else console.log("pdftotext is not installed: the PDF is read in one way only");
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

describe.each([
  ["demo", "invented-readings.csv", "study_id"],
  ["children", "children.csv", "subject_id"],
])("the public report of the %s study", (name, file, column) => {
  it("holds no id, no date and no prescription in any open file", async () => {
    const json = JSON.parse(await readFile(`data/${name}/protocol.json`, "utf8"));
    const protocol = defineProtocol({ ...json, audience: "public", replicates: 60 });
    const report = join(folder, name);
    await writeReport(await runStudy(protocol, { folder: `data/${name}` }), report);
    const [header, ...lines] = (await readFile(`data/${name}/${file}`, "utf8")).split("\n");
    const at = header.split(",").indexOf(column);
    const ids = new Set(lines.map((line) => line.split(",")[at]?.trim()).filter(Boolean));
    expect(ids.size).toBeGreaterThan(500);
    const texts = await textsOf(report);
    const kinds = new Set(texts.map(([path]) => /\.\w+$/.exec(path)?.[0]));
    expect([...kinds].sort()).toEqual([
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
    expect(found(lines.slice(0, 50).join("\n"), ids).length).toBeGreaterThan(40);
  }, 180_000);
});
