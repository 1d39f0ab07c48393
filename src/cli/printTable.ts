import { Option } from "commander";
import { readSmallFile } from "../platform/index.js";
import { caution, InputError, type TableModel } from "../results/index.js";
import { jsonText } from "../text/index.js";

/** How a command prints its table. */
export interface TableOptions {
  readonly format: "markdown" | "csv" | "html";
  readonly json?: true;
}

export const formatOption = (): Option =>
  new Option("--format <format>", "how").choices(["markdown", "csv", "html"]).default("markdown");

/** The text of a command's file. */
export async function textOf(command: string, what: string, path: string): Promise<string> {
  const text = await readSmallFile(path, command);
  if (text === null) {
    throw new InputError(`${command} requires ${what}, got no readable ${path}`);
  }
  return text;
}

/** Prints a result as JSON, or its table with the caution. */
export async function printTable(
  result: object,
  table: () => TableModel,
  { format, json }: TableOptions,
): Promise<void> {
  if (json) {
    console.log(jsonText(result));
    return;
  }
  const { toCsv, toHtml, toMarkdown } = await import("../tables/index.js");
  console.log({ markdown: toMarkdown, csv: toCsv, html: toHtml }[format](table()));
  // the writers of Markdown and HTML end with the table's notes, the caution among them
  if (format === "csv") console.log(`\n${caution}`);
}
