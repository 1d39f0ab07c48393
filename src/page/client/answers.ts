import type { PreparationChoices } from "../../prepare/index.js";
import type { Json } from "./json.js";

export const keyOf = (...parts: readonly (string | null)[]) => JSON.stringify(parts);

/** Losses that were agreed to: by file and column, how many cells; "all" of a column that a person lets go. */
export type Agreed = ReadonlyMap<string, number | "all">;

/** Choices without the losses that they would agree to: those are agreed to one by one. */
export function answersOf(choices: PreparationChoices): Json {
  const answers: Json = structuredClone(choices);
  for (const file of answers.files) {
    delete file.rowsLeftOut;
    for (const column of Object.values<Json>(file.columns)) {
      // a drop that was detected is nobody's own: nothing of it is agreed to yet
      if (column.fate === "drop") column.loses = 0;
      else delete column.loses;
    }
  }
  return answers;
}

/** The same with what was agreed to. */
export function agreementTo(answers: Json, agreed: Agreed): Json {
  const choices: Json = structuredClone(answers);
  for (const file of choices.files) {
    const rows = agreed.get(keyOf(file.file, null));
    if (typeof rows === "number") file.rowsLeftOut = rows;
    for (const [name, column] of Object.entries<Json>(file.columns)) {
      const cells = agreed.get(keyOf(file.file, name));
      if (cells === "all") delete column.loses;
      else if (cells !== undefined) column.loses = cells;
    }
  }
  return choices;
}

/** A column is something else than was thought: what followed from that is open again. */
export function changeColumn(answers: Json, file: string, column: string, is: string): void {
  columnOf(answers, file).set(column, { is });
}

export function setOfColumn(
  answers: Json,
  file: string,
  column: string,
  key: string,
  value: string | number | null,
): void {
  const columns = columnOf(answers, file);
  columns.set(column, { ...columns.get(column), [key]: value });
}

export function setOfFile(answers: Json, file: string, key: string, value: unknown): void {
  answers.files.find((one: Json) => one.file === file)[key] = value;
}

export function choiceOf(answers: Json, file: string, column: string): Json {
  return columnOf(answers, file).get(column) ?? {};
}

function columnOf(answers: Json, file: string) {
  const { columns } = answers.files.find((one: Json) => one.file === file);
  return {
    get: (name: string): Json => (Object.hasOwn(columns, name) ? columns[name] : undefined),
    // whatever the name, "__proto__" too
    set: (name: string, value: Json) =>
      Object.defineProperty(columns, name, {
        value,
        enumerable: true,
        configurable: true,
        writable: true,
      }),
  };
}
