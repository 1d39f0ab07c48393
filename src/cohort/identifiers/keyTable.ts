import { readFile } from "node:fs/promises";
import { hashedPseudonyms, randomPseudonyms } from "../../privacy/index.js";
import { InputError } from "../../results/index.js";

/** The number of each subject; an existing key table is continued. */
export async function numbersFor(
  subjects: readonly string[],
  numbers: { readonly keyFile: string } | { readonly secret: string } | undefined,
): Promise<Map<string, string>> {
  if (numbers === undefined) return randomPseudonyms(subjects);
  if ("secret" in numbers) return hashedPseudonyms(subjects, numbers.secret);
  const text = await textOf(numbers.keyFile);
  const known = text
    .split("\n")
    .slice(1)
    .filter((line) => line !== "")
    .map((line): [string, string] => {
      const [number, ...subject] = line.split(",");
      return [subjectIn(subject.join(",")), number];
    });
  return randomPseudonyms(subjects, new Map(known));
}

/** A key table that is there and cannot be read must not be written anew: it is the only way back. */
async function textOf(keyFile: string): Promise<string> {
  try {
    return await readFile(keyFile, "utf8");
  } catch (error) {
    if ((error as NodeJS.ErrnoException).code === "ENOENT") return "";
    throw new InputError("deidentify requires a key table that can be read, got one that cannot");
  }
}

function subjectIn(json: string): string {
  try {
    const subject: unknown = JSON.parse(json);
    if (typeof subject === "string") return subject;
  } catch {
    // said below, without the line's text
  }
  throw new InputError("deidentify requires a key table as it wrote it, got another file");
}

/** The key table as text: number, then the subject as a JSON string. */
export function keyText(key: ReadonlyMap<string, string>): string {
  const lines = [...key].map(([subject, number]) => `${number},${JSON.stringify(subject)}`);
  return `${["number,subject", ...lines].join("\n")}\n`;
}
