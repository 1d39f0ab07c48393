import type { CodedTable } from "../../cohort/index.js";
import { withAcuities } from "./acuityByRefraction.js";
import { addEquivalents, addTriples } from "./agreement.js";
import { withBlocks } from "./blocks.js";
import { columnFacts } from "./columnFacts.js";
import type { DetectedColumn, DetectedFile, FileAnswers } from "./detected.js";
import { doubtsOf } from "./doubts.js";
import { holdsOf, sideOf } from "./measurementKind.js";
import { idWords, powerWords } from "./nameWords.js";
import { addEyeByCells, addSingleLetters, dropEyeBeside } from "./neighbours.js";
import { withPairedEyes } from "./pairedEyes.js";
import { roleAlone } from "./roleAlone.js";
import type { Role } from "./roles.js";
import { settled } from "./settled.js";
import { subjectColumns } from "./subjectColumns.js";

/** A column that says the unit of each row's age says it of the one column of ages beside it. */
function withAgeUnits(columns: readonly DetectedColumn[]): DetectedColumn[] {
  const ages = columns.filter(({ is }) => is === "age");
  const beside = columns.some(({ is }) => is === "age-unit") && ages.length === 1;
  return columns.map((column) =>
    beside && column === ages[0]
      ? {
          ...column,
          unit: "unit-column",
          questions: column.questions.filter(({ key }) => key !== "unit"),
        }
      : column,
  );
}

/**
 * What each column of each file is: by its name, its cells and their forms together, and the ids also by
 * whether they match those of the other files. What a person has said holds; what nobody can tell from the
 * files is asked, never guessed.
 */
export function detectFiles(
  tables: readonly CodedTable[],
  answers: readonly FileAnswers[] = [],
): DetectedFile[] {
  const facts = tables.map((table) =>
    withPairedEyes(table.header.map((_, at) => columnFacts(table, at))),
  );
  const found = facts.map((columns, file) =>
    columns.map((one) => roleAlone(one, tables[file], columns)),
  );
  const roleLists = found.map((list, file) =>
    list.map((role, at) => answers[file]?.columns?.[facts[file][at].column]?.is ?? role),
  );
  roleLists.forEach((list, file) => {
    addEyeByCells(list, facts[file]);
    dropEyeBeside(list, facts[file]);
    addSingleLetters(list, facts[file]);
    addTriples(list, facts[file]);
    addEquivalents(list, facts[file], tables[file]);
  });
  const subjects = subjectColumns(facts, roleLists, answers);
  const files = tables.map((table, file) => {
    const columns = facts[file].map((one, at) => {
      const given = answers[file]?.columns?.[one.column] ?? {};
      const role = roleOfColumn(file, at);
      const alone = role === "subject" ? role : found[file][at];
      return settled(one, role, alone, given, ambiguous(file, at));
    });
    return { file: table.file, columns: withBlocks(withAcuities(withAgeUnits(columns), table)) };
  });
  const holds = holdsOf(
    files,
    answers.map((one) => one.holds),
  );
  const sides = files.map(({ columns }, at) =>
    columns.map((column) => ({ ...column, of: column.of ?? sideOf(column, columns, holds[at]) })),
  );
  return files.map(({ file }, at) => {
    const sided = sides[at];
    return {
      file,
      holds: holds[at],
      columns: sided.map((column) => {
        const said = answers[at]?.columns?.[column.column]?.is != null;
        const doubt = doubtsOf(column, sided, holds[at], sides.flat()).filter(
          ({ key }) => !said || key === "of",
        );
        return { ...column, questions: [...column.questions, ...doubt] };
      }),
    };
  });

  function roleOfColumn(file: number, at: number): Role | null {
    const said = answers[file]?.columns?.[facts[file][at].column]?.is;
    if (said != null) return said;
    const role = roleLists[file][at];
    const { chosen, rivals } = subjects[file];
    if (at === chosen) return "subject";
    // another id of the child, by its name and its cells
    const { words, cells, filled } = facts[file][at];
    const isCode = idWords.test(words) && !powerWords.test(words) && cells.size > filled / 3;
    if (role === null && rivals.includes(at) && isCode) return "record-number";
    return role;
  }

  /** Whether another column could be the subject as well, and nobody has said which. */
  function ambiguous(file: number, at: number): boolean {
    const { chosen, sure } = subjects[file];
    return at === chosen && !sure;
  }
}
