import { readFile } from "node:fs/promises";

/** What must not leave with a report, as it was found in a text. */
export function found(text: string, ids: ReadonlySet<string>): string[] {
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

/** The study numbers in a column of a file. */
export async function studyNumbers(file: string, column: string): Promise<ReadonlySet<string>> {
  const [header, ...lines] = (await readFile(file, "utf8")).split("\n");
  const at = header.split(",").indexOf(column);
  return new Set(lines.map((line) => line.split(",")[at]?.trim()).filter(Boolean));
}

/** The studies in data/, each with the file and the column that hold its study numbers. */
export const studies = [
  ["demo", "invented-readings.csv", "study_id"],
  ["children", "children.csv", "subject_id"],
] as const;
