import type { TableModel } from "../results/index.js";
import type { PrintOptions } from "./printedTable.js";
import { wordFile } from "./wordFile.js";
import { wordTable } from "./wordTable.js";

/**
 * Tables as one Word document (.docx): title above, three horizontal rules, footnotes and notes
 * below, every table under the last. Text is text, to be edited as any other; the header is
 * repeated on every page. The document's date is fixed: equal tables give equal bytes.
 *
 * @param tables one table model or several; numbers are rounded here by the rules of the tables'
 *   README
 * @param options `numbers`: the signs of decimals and thousands
 *
 * @example
 * (await toWord({ kind: "table", title: "T", columns: [{ label: "n", format: "count" }], rows: [{ cells: [12] }], notes: [] })).length > 1000 // => true
 */
export async function toWord(
  tables: TableModel | readonly TableModel[],
  options: PrintOptions = {},
): Promise<Uint8Array> {
  const docx = await import("docx");
  const list: readonly TableModel[] = "kind" in tables ? [tables] : tables;
  return wordFile({
    title: list.map(({ title }) => title).join("; "),
    children: list.flatMap((table) => wordTable(docx, table, options)),
  });
}
