import { readdir, readFile } from "node:fs/promises";
import { join, relative } from "node:path";
import { parse as parseCsv } from "csv-parse/sync";
import Zip from "jszip";
import { readPdf } from "../../builders/readPdf.js";

/** The words of every open file of a written report, by its path: what stands in it and in its labels. */
export async function writtenTexts(report: string): Promise<ReadonlyMap<string, string>> {
  const texts = new Map<string, string>();
  const entries = await readdir(report, { recursive: true, withFileTypes: true });
  for (const entry of entries.filter((one) => one.isFile())) {
    const path = join(entry.parentPath, entry.name);
    const text = await wordsOf(path);
    if (text !== null) texts.set(relative(report, path), text);
  }
  return texts;
}

async function wordsOf(path: string): Promise<string | null> {
  if (path.endsWith(".png")) return null;
  const bytes = await readFile(path);
  if (/\.(docx|xlsx)$/.test(path)) {
    const parts = Object.values((await Zip.loadAsync(bytes)).files).filter(({ name }) =>
      /(document|footnotes|header\d*|footer\d*|core|app|sharedStrings|sheet\d+|workbook)\.xml$/.test(
        name,
      ),
    );
    const words = await Promise.all(parts.map((part) => part.async("string")));
    // numbers of shared strings, and the fixed date of a Word file, say nothing
    return words
      .map((xml) =>
        wordsOfXml(xml.replace(/<c [^>]*t="s"[\s\S]*?<\/c>|1980-01-01T00:00:00Z/g, " ")),
      )
      .join("\n");
  }
  if (path.endsWith(".pdf")) {
    const { pages, title, alternatives, outline } = readPdf(bytes);
    return [title, ...pages, ...alternatives, ...outline].join("\n");
  }
  const text = bytes.toString("utf8");
  if (path.endsWith(".csv")) {
    return parseCsv(text, { relax_column_count: true })
      .map((cells: readonly string[]) => cells.join("; "))
      .join("\n");
  }
  if (path.endsWith(".svg")) return wordsOfXml(text);
  if (path.endsWith(".html")) {
    return wordsOfXml(text.replace(/<style[\s\S]*?<\/style>/g, " "));
  }
  if (path.endsWith("manifest.json")) {
    const {
      written: _,
      node: __,
      meridional: ___,
      run: ____,
      protocolHash: _____,
      ...rest
    } = JSON.parse(text);
    return JSON.stringify(rest);
  }
  return text;
}

/** Text between tags, and what labels, alternative texts, titles and values say; sheets hold numbers in `v`. */
function wordsOfXml(xml: string): string {
  const said = [...xml.matchAll(/\s(?:aria-label|alt|title|descr|content|value)="([^"]*)"/g)].map(
    ([, words]) => words!,
  );
  const text = xml
    .replace(/<w:fldSimple[\s\S]*?<\/w:fldSimple>/g, " ")
    .replace(/<\/(w:p|w:tc|td|th|p|li|h\d|text|tspan|t|v|si|c|title|div)>/g, "\n")
    .replace(/<[^>]*>/g, "");
  return [...said, text]
    .join("\n")
    .replaceAll("&lt;", "<")
    .replaceAll("&gt;", ">")
    .replaceAll("&quot;", '"')
    .replaceAll("&amp;", "&")
    .replace(/&#(\d+);/g, (_, code) => String.fromCodePoint(Number(code)));
}

/** Every number in a text, without its sign, "1,234" and "1234" alike. */
export function numbersIn(text: string): ReadonlySet<number> {
  const plain = text.replace(/(\d)[,\u202f](?=\d{3}(?!\d))/g, "$1");
  return new Set([...plain.matchAll(/\d+(?:\.\d+)?/g)].map(([digits]) => Number(digits)));
}

export interface MarkdownTable {
  readonly title: string;
  readonly columns: readonly string[];
  readonly rows: readonly (readonly string[])[];
  /** What stands below it, up to the next block. */
  readonly notes: string;
}

/** The tables of a Markdown report. */
export function tablesIn(markdown: string): MarkdownTable[] {
  const parts = markdown.split(/^\*\*Table \d+\. /m).slice(1);
  return parts.map((part) => {
    const lines = part.split("\n");
    const title = lines[0]!.replace(/\*\*$/, "");
    const own = lines.slice(1).filter((line) => line.startsWith("|"));
    const cellsOf = (line: string) =>
      line
        .replace(/^\| ?| ?\|$/g, "")
        .split(/(?<!\\)\|/)
        .map((cell) => cell.trim().replaceAll("\\", ""));
    const after = part.slice(part.lastIndexOf("|") + 1);
    const notes = after.split(/^(?:##|!\[)/m)[0]!;
    return { title, columns: cellsOf(own[0]!), rows: own.slice(2).map(cellsOf), notes };
  });
}
