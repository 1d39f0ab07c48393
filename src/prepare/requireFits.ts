import { basename, resolve } from "../platform/index.js";
import { didYouMean, InputError } from "../results/index.js";
import type { PreparationChoices } from "./choices.js";
import type { ReadFile } from "./readTables.js";
import type { ColumnPlan } from "./write/columnPlan.js";

export function requireFolders(files: readonly string[], to: string, key: string): void {
  if (files.length === 0)
    throw new InputError("prepareFiles requires a file, got none; name the raw exports");
  if (to.trim() === "" || key.trim() === "") {
    throw new InputError(
      'prepareFiles requires the name of a folder, such as "my-study", got an empty word',
    );
  }
  if (resolve(to) === resolve(key)) {
    throw new InputError(
      "prepareFiles requires a folder of its own for the key table, got that of the study files; name another",
    );
  }
  const inTo = files.find((path) => resolve(path, "..") === resolve(to));
  if (inTo !== undefined) {
    throw new InputError(
      `prepareFiles requires another folder for the study files than that of ${basename(inTo)}, got the same; name a new one`,
    );
  }
}

export function requireSameFiles(files: readonly string[], given: PreparationChoices | null): void {
  if (given === null) return;
  const names = files.map((path) => basename(path));
  const others = given.files.map(({ file }) => file).filter((file) => !names.includes(file));
  const missing = names.filter((name) => !given.files.some(({ file }) => file === name));
  if (others.length + missing.length > 0) {
    throw new InputError(
      `prepareFiles requires choices of the same files, got choices of ${given.files.map(({ file }) => file).join(", ")} and the ` +
        `files ${names.join(", ")}; give the same files, or begin anew in another folder`,
    );
  }
}

/** Answers to columns that no file has would be ignored. */
export function requireKnownColumns(
  read: readonly ReadFile[],
  given: PreparationChoices | null,
): void {
  for (const { table, sheets } of read) {
    const columns = given?.files.find(({ file }) => file === table.file)?.columns;
    if (columns === undefined || sheets !== undefined) continue;
    const strange = Object.keys(columns).find((name) => !table.header.includes(name));
    if (strange !== undefined) {
      throw new InputError(
        `prepareFiles requires answers to columns that are there, got one to "${strange}", which ${table.file} has not; ` +
          `${didYouMean(strange, table.header)}; correct its name in prepare.json, or take it out`,
      );
    }
  }
}

/** The column of the ids becomes the study number, or no file is of any use. */
export function requireNumbered(
  files: readonly { readonly file: string }[],
  plans: readonly (readonly ColumnPlan[])[],
): void {
  plans.forEach((list, at) => {
    for (const { detected, fate } of list) {
      if (detected.is !== "subject" || fate === "number" || fate === null) continue;
      throw new InputError(
        `prepareFiles requires "fate": "number" for the column that says which child a row belongs to, got "${fate}" for ` +
          `${detected.column} of ${files[at].file}; if another column says it, give that one "is": "subject" and this one "is": "record-number"`,
      );
    }
  });
}
