import type { MarkdownTable } from "./writtenTexts.js";

/** The counts that read like this one, by the sentence: 0 to 10, 11 to 17, else the nearest 5. */
export function alike(count: number, step = 5): readonly [number, number] {
  if (count <= 10) return [0, 10];
  const first = step * Math.ceil(11 / step);
  const reads = Math.max(first, step * Math.floor(count / step + 0.5));
  return [reads === first ? 11 : Math.ceil(reads - step / 2), Math.ceil(reads + step / 2) - 1];
}

/** The counts that a printed one stands for: "fewer than 11", "120", or of a total "416 to 424". */
export function meant(cell: string | undefined, step = 5): readonly [number, number] {
  const words = String(cell)
    .replaceAll(",", "")
    .replace(/^about /, "")
    .replace(/ (?:eye|child)(?:s|ren)?$/, "");
  const range = /^(\d+) to (\d+)$/.exec(words);
  if (range) return [Number(range[1]), Number(range[2])];
  if (words === "fewer than 11") return [0, 10];
  if (!/^\d+$/.test(words)) throw new Error(`no count: ${cell}`);
  // a single total of parts whose ends are one number
  return words === "0" ? [0, 0] : alike(Number(words), step);
}

/** The range of a rate, "89 to 100 % (80 to 100)", without its interval; null where there is none. */
export function rateIn(cell: string | undefined): readonly [number, number] | null {
  const found = /^(\d[\d,]*)(?: to (\d[\d,]*))?(?: %)?(?: \(|$)/.exec(cell ?? "");
  if (found === null) return null;
  const [low, high] = [found[1]!, found[2] ?? found[1]!].map((end) =>
    Number(end.replaceAll(",", "")),
  );
  return [low!, high!];
}

export const cellsIn = (table: MarkdownTable, column: number): readonly string[] =>
  table.rows.map((row) => row[column]!);
