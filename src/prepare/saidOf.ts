import type { Fate, FileChoices } from "./choices.js";
import type { FileAnswers } from "./detect/detected.js";
import type { Role } from "./detect/roles.js";

const isOf: Readonly<Partial<Record<Fate, Role>>> = {
  number: "subject",
  keep: "other",
  code: "other",
};

/** What was said of a file; a fate alone says what an unknown column is. */
export function saidOf(choices: FileChoices | undefined): FileAnswers {
  if (choices === undefined) return {};
  const columns = Object.entries(choices.columns).map(([name, choice]) => {
    const is = choice.is ?? (choice.fate == null ? null : (isOf[choice.fate] ?? null));
    return [name, { ...choice, is }];
  });
  return { holds: choices.holds, columns: Object.fromEntries(columns) };
}

/** A choice of a column by its name, whatever the name. */
export function ownChoice<Choice>(
  choices: Readonly<Record<string, Choice>> | undefined,
  column: string,
): Choice | undefined {
  return choices !== undefined && Object.hasOwn(choices, column) ? choices[column] : undefined;
}
