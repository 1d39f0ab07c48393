// Every question of a layout answered by what is true of it: the mapping then names each column in its place,
// the sign of its cylinders, and the days that lie between screening and exam.
import { readFileSync } from "node:fs";
import { join } from "node:path";
import { expect } from "vitest";
import { auditFile, type ColumnMapping } from "../../src/cohort/index.js";
import { type Preparation, prepareFiles } from "../../src/prepare/index.js";
import type { ColumnTruth, FileTruth, WrittenLayout } from "./corpus/layout.js";
import { writeLayout } from "./corpus/layout.js";

type Choice = Record<string, unknown>;
async function answered(
  one: WrittenLayout,
  folder: string,
): Promise<{ made: Preparation; to: string }> {
  const paths = await writeLayout(one, join(folder, one.name, "raw"));
  const to = join(folder, one.name, "study");
  let made = await prepareFiles(paths, undefined, { to });
  for (let call = 0; call < 4 && !made.written; call++) {
    const choices = JSON.parse(readFileSync(join(to, "prepare.json"), "utf8"));
    choices.ids.ignore ??= one.layout.ignore;
    for (const file of choices.files) {
      const truth = one.layout.files.find((each) => each.file === file.file)!;
      if (file.sheet === null) file.sheet = truth.sheet ?? "Data";
      file.holds ??= truth.holds.filter((each) => each !== "children");
      for (const [name, choice] of Object.entries<Choice>(file.columns)) {
        const true_ = truth.columns[name];
        if (true_ !== undefined) answer(choice, true_);
      }
    }
    made = await prepareFiles(paths, choices, { to });
  }
  return { made, to };
}
function answer(choice: Choice, truth: ColumnTruth): void {
  for (const key of ["is", "eye", "order", "unit", "notation", "of"] as const)
    if (choice[key] === null) choice[key] = truth[key] ?? null;
  if (choice.century === null) choice.century = 2000;
  // what a person calls something else goes its way by what it is
  if (choice.fate === null) delete choice.fate;
}

const mapped: Readonly<Record<string, string>> = {
  ...{ sphere: "sphere", cylinder: "cylinder", axis: "axis", prescription: "prescription" },
};
/** Columns of powers that the mapping does not read in their place, and signs that it does not give. */
function faultsOf(file: FileTruth, mapping: ColumnMapping): string[] {
  const faults: string[] = [];
  for (const kind of file.holds) {
    if (kind === "children") continue;
    const blocks = mapping[kind] ?? [];
    for (const [name, { is, eye, of, block }] of Object.entries(file.columns)) {
      const key = mapped[is];
      if (key === undefined || (of !== undefined && of !== kind)) continue;
      const found = blocks.filter((one) => {
        // a cell of both eyes is in the place of each
        const places =
          eye !== undefined ? [one[eye]] : one.columns ? [one.columns] : [one.right, one.left];
        return places.every((part) => (part as Record<string, string> | undefined)?.[key] === name);
      });
      if (found.length === 0) faults.push(`${file.file}, ${name} is no ${eye ?? ""} ${key}`);
      const { cylinder } = file;
      const sign = typeof cylinder === "object" ? cylinder[block ?? ""] : (cylinder ?? "minus");
      const cylinderless = !Object.values(file.columns).some(({ is }) =>
        ["cylinder", "prescription"].includes(is),
      );
      if (!cylinderless && found.some((one) => one.cylinder !== sign))
        faults.push(`${file.file}, ${name}: cylinder ${found[0]?.cylinder}, not ${sign}`);
    }
  }
  return faults;
}

/** Prepares a layout and holds its mapping, and the audits of its study files, against what is true. */
export async function wholeWay(one: WrittenLayout, folder: string): Promise<void> {
  const { made, to } = await answered(one, folder);
  expect(made.questions).toEqual([]);
  expect(made.written).toBe(true);
  expect(one.layout.files.flatMap((file) => faultsOf(file, made.mapping!))).toEqual([]);
  for (const { as, holds } of made.files) {
    for (const only of holds as ("readings" | "findings")[]) {
      if (made.mapping![only] === undefined) {
        expect(made.look.join()).toContain(`no ${only} can be read`);
        continue;
      }
      const audit = await auditFile(join(to, as), { columns: made.mapping!, only });
      expect(audit.identifiers).toEqual([]);
      expect(audit.parts.flatMap(({ faults }) => faults)).toEqual([]);
    }
  }
}
