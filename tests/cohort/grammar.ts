import { writeFile } from "node:fs/promises";
import { problemLog } from "../../src/cohort/problemLog.js";
import { openSource } from "../../src/cohort/read/openSource.js";
import { createRandom } from "../../src/inference/index.js";

/** A small random table, well or badly written: quotes, line ends, widths, blanks, marks. */
export function randomTable(random: () => number, { bad }: { readonly bad: number }): string {
  const pick = <T>(list: readonly T[]): T => list[Math.floor(random() * list.length)]!;
  const isBad = random() < bad;
  const lineEnds = isBad
    ? pick([["\r"], ["\n", "\r\n"], ["\n", "\n", "\n", "\r"], ["\r\n", "\n"]])
    : [pick(["\n", "\r\n"])];
  const mark = pick([",", ",", ";", "\t", "|"]);
  const plain = ["1", "-0.25", "x", "", " y ", '"q"', '"a""b"', `"a${mark}b"`, '"l1\nl2"'];
  const odd = ['"l1\rl2"', 'a"b', '"a"b', '" s"', "é", '"', '""', "0012", "\u00a0", "#c", "a\rb"];
  const cell = () => pick(isBad && random() < 0.1 ? odd : plain);
  const width = 2 + Math.floor(random() * 3);
  const names = Array.from({ length: width }, (_, at) => (random() < 0.1 ? `"h ${at}"` : `h${at}`));
  let text = `${random() < 0.1 ? "\ufeff" : ""}${names.join(mark)}${pick(lineEnds)}`;
  const rows = 1 + Math.floor(random() * 6);
  for (let row = 0; row < rows; row++) {
    const cells = width + (random() < 0.1 ? pick([-1, 1]) : 0);
    text +=
      random() < 0.06 ? pick(["", " ", mark]) : Array.from({ length: cells }, cell).join(mark);
    if (row < rows - 1 || random() < 0.7) text += pick(lineEnds);
  }
  return text;
}

/** What a file's table is: its header and cells, or the kind of error. */
async function read(path: string, large: number): Promise<string> {
  try {
    const source = await openSource(path, {}, problemLog("table"), "read", { large });
    const rows: string[][] = [];
    const use = { numeric: new Map(), coded: new Set<number>() };
    for await (const { table } of source.tables(use)) {
      for (let row = 0; row < table.n; row++) {
        rows.push(source.header.map((_, column) => table.text(column, row)));
      }
    }
    return rows.length === 0 ? "refused" : JSON.stringify([source.header, rows]);
  } catch (error) {
    return (error as Error).name === "InputError" ? "refused" : String(error);
  }
}

/** How many of some random tables are read, refused, and read otherwise by the two ways of reading. */
export async function compareGrammars(path: string, tables: number, seed: number) {
  const generator = createRandom(seed);
  const random = () => generator.uniform();
  const counts = { read: 0, refused: 0, differ: [] as string[] };
  for (let at = 0; at < tables; at++) {
    const text = randomTable(random, { bad: 0.4 });
    await writeFile(path, text);
    const whole = await read(path, 4_000_000);
    const scanned = await read(path, 0);
    if (whole !== scanned) counts.differ.push(JSON.stringify({ text, whole, scanned }));
    else counts[whole === "refused" ? "refused" : "read"] += 1;
  }
  return counts;
}
