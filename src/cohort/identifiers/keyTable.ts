import { readText } from "../../platform/index.js";
import { hashedPseudonyms, randomPseudonyms } from "../../privacy/index.js";
import { InputError } from "../../results/index.js";
import { calendarDay, isoDay } from "./calendarDay.js";

/** The only way back from study numbers to children, and what all files of a study share. */
export interface KeyTable {
  /** Study number by subject. */
  readonly numbers: ReadonlyMap<string, string>;
  /** The day, since 1970, that a child's days are counted from. */
  readonly zeros: ReadonlyMap<string, number>;
  /** What was ignored of the ids as the files write them, such as "case+leading-zeros"; "" for nothing. */
  readonly ignoring: string;
}

/** The number of each subject; an existing key table is continued, and its first days are kept. */
export async function numbersFor(
  subjects: readonly string[],
  numbers: { readonly keyFile: string } | { readonly secret: string } | undefined,
): Promise<{ numbers: Map<string, string>; zeros: Map<string, number> }> {
  if (numbers === undefined) return { numbers: randomPseudonyms(subjects), zeros: new Map() };
  if ("secret" in numbers) {
    return { numbers: hashedPseudonyms(subjects, numbers.secret), zeros: new Map() };
  }
  const known = await readKeyTable(numbers.keyFile, "deidentify");
  return {
    numbers: randomPseudonyms(subjects, known.numbers),
    zeros: new Map(known.zeros),
  };
}

/**
 * A key table as it was written; an empty one where there is no such file yet.
 *
 * @throws InputError for another file, without its text
 */
export async function readKeyTable(keyFile: string, caller: string): Promise<KeyTable> {
  const [header, ...lines] = (await textOf(keyFile, caller)).split("\n");
  const numbers = new Map<string, string>();
  const zeros = new Map<string, number>();
  for (const line of lines) {
    if (line === "") continue;
    const [, number, json, zero = ""] = keyLine.exec(line) ?? [];
    const subject = json === undefined ? null : subjectIn(json);
    if (number === undefined || subject === null) {
      throw new InputError(
        `${caller} requires a key table as it wrote it, got another file (${keyFile}); name another folder for the key`,
      );
    }
    numbers.set(subject, number);
    const day = calendarDay(zero);
    if (day !== null) zeros.set(subject, day);
  }
  return { numbers, zeros, ignoring: header.split(",")[3]?.replace(/^ignoring /, "") ?? "" };
}

const keyLine = /^([^,]*),("(?:[^"\\]|\\.)*")(?:,([\d-]*))?$/;

/** A key table that is there and cannot be read must not be written anew: it is the only way back. */
async function textOf(keyFile: string, caller: string): Promise<string> {
  try {
    return await readText(keyFile);
  } catch (error) {
    if ((error as NodeJS.ErrnoException).code === "ENOENT") return "";
    throw new InputError(
      `${caller} requires a key table that can be read, got ${keyFile}, which cannot; look at its permissions`,
    );
  }
}

function subjectIn(json: string): string | null {
  try {
    const subject: unknown = JSON.parse(json);
    return typeof subject === "string" ? subject : null;
  } catch {
    return null;
  }
}

/** The key table as text: number, the subject as a JSON string, and its day zero where there is one. */
export function keyTableText({ numbers, zeros, ignoring }: KeyTable): string {
  const lines = [`number,subject,dayZero${ignoring === "" ? "" : `,ignoring ${ignoring}`}`];
  for (const [subject, number] of numbers) {
    const zero = zeros.get(subject);
    const day = zero === undefined ? "" : isoDay(zero);
    lines.push(`${number},${JSON.stringify(subject)},${day}`);
  }
  return `${lines.join("\n")}\n`;
}
