import { readFile } from "node:fs/promises";
import { hashedPseudonyms, randomPseudonyms } from "../privacy/index.js";

/** The number of each subject; an existing key table is continued. */
export async function numbersFor(
  subjects: readonly string[],
  numbers: { readonly keyFile: string } | { readonly secret: string } | undefined,
): Promise<Map<string, string>> {
  if (numbers === undefined) return randomPseudonyms(subjects);
  if ("secret" in numbers) return hashedPseudonyms(subjects, numbers.secret);
  const text = await readFile(numbers.keyFile, "utf8").catch(() => "");
  const known = text
    .split("\n")
    .slice(1)
    .filter((line) => line !== "")
    .map((line): [string, string] => {
      const [number, ...subject] = line.split(",");
      return [JSON.parse(subject.join(",")), number];
    });
  return randomPseudonyms(subjects, new Map(known));
}

/** The key table as text: number, then the subject as a JSON string. */
export function keyText(key: ReadonlyMap<string, string>): string {
  const lines = [...key].map(([subject, number]) => `${number},${JSON.stringify(subject)}`);
  return `${["number,subject", ...lines].join("\n")}\n`;
}
