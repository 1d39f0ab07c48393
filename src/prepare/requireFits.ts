import { basename, resolve } from "../platform/index.js";
import { InputError } from "../results/index.js";
import type { PreparationChoices } from "./choices.js";

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
