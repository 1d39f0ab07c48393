import { unzipSync } from "fflate";
import { parseFragment } from "parse5";
import { describe, expect, it } from "vitest";
import { forTerminal } from "../../src/cli/forTerminal.js";
import { reportHtml } from "../../src/study/publish/writeHtml.js";
import { reportMarkdown } from "../../src/study/publish/writeMarkdown.js";
import { reportPdf } from "../../src/study/publish/writePdf.js";
import { reportWord } from "../../src/study/publish/writeWord.js";
import { toCsv, toHtml, toLatex, toMarkdown, toWord, toWorkbook } from "../../src/tables/index.js";
import { jsonText, plainText, plainTexts } from "../../src/text/index.js";
import { forbidden, hostile, reportOf, tableOf } from "./hostile.js";

/** The parts of a document that are XML. */
const xmlOf = (bytes: Uint8Array) =>
  Object.entries(unzipSync(bytes))
    .filter(([name]) => /\.(xml|rels)$/.test(name))
    .map(([, part]) => new TextDecoder().decode(part))
    .join("\n");

describe.each(hostile)("%s", (_, text) => {
  it("is letters and signs alone", () => {
    expect(plainText(text)).not.toMatch(forbidden);
    expect(plainText(plainText(text))).toBe(plainText(text));
    expect(forTerminal(text)).not.toMatch(forbidden);
  });

  it("leaves the writers of tables as it may", async () => {
    const table = tableOf(text);
    for (const write of [toCsv, toHtml, toLatex, toMarkdown]) {
      expect(write(table)).not.toMatch(forbidden);
    }
    expect(xmlOf(await toWord([table]))).not.toMatch(forbidden);
    expect(xmlOf(await toWorkbook([table, table]))).not.toMatch(forbidden);
    for (const cell of toCsv(table).split(/[,\n]/)) expect(cell).not.toMatch(/^"?\s*[=+@]/);
  });

  it("leaves the writers of reports as it may", async () => {
    const report = reportOf(text);
    const html = await reportHtml(report, new Map());
    expect(html).not.toMatch(forbidden);
    expect(elements(html)).toEqual(elements(await reportHtml(reportOf("plain"), new Map())));
    const markdown = reportMarkdown(report);
    expect(markdown).not.toMatch(forbidden);
    expect(markdown.match(/^#+ /gm)).toEqual(["# ", "## "]);
    expect(markdown).not.toMatch(/<(script|img|b)\b/);
    expect(xmlOf(await reportWord(report, new Map()))).not.toMatch(forbidden);
    const pdf = Buffer.from(await reportPdf(report, new Map())).toString("latin1");
    expect(pdf.startsWith("%PDF-1.7")).toBe(true);
  });

  it("stands in JSON without a change of the data", () => {
    const json = jsonText({ text });
    expect(JSON.parse(json)).toEqual({ text });
    expect(json).not.toMatch(forbidden);
    expect(json).not.toContain("<");
  });
});

it("plain data without such texts stays the object that it is", () => {
  const report = reportOf("a plain text, with \t and \n");
  expect(plainTexts(report)).toBe(report);
  expect(plainTexts({ spec: "a\u000bb", title: "a\u000bb" }, ["spec"])).toEqual({
    spec: "a\u000bb",
    title: "a b",
  });
});

/** Names of all elements, in their order. */
function elements(html: string): string[] {
  const names: string[] = [];
  const visit = (node: { readonly nodeName: string; readonly childNodes?: readonly unknown[] }) => {
    if (!node.nodeName.startsWith("#")) names.push(node.nodeName);
    for (const child of node.childNodes ?? []) visit(child as never);
  };
  visit(parseFragment(html) as never);
  return names;
}
