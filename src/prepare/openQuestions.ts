import type { FileChoices, PreparationChoices } from "./choices.js";
import type { DetectedFile } from "./detect/detected.js";
import { measuredRoles } from "./detect/measurementKind.js";
import type { IdMatches } from "./ids/linkReport.js";
import { type Ignorable, ignorableWords } from "./ids/normaliseId.js";
import type { ReadFile } from "./readTables.js";
import type { ColumnPlan } from "./write/columnPlan.js";

/** Something only a person can say, where its answer stands in `prepare.json`, and what it may be. */
export interface OpenQuestion {
  readonly file: string | null;
  readonly column: string | null;
  readonly key: string;
  readonly ask: string;
  readonly allowed: readonly string[];
}

/** Everything that the questions and the written choices are made of. */
export interface Seen {
  readonly read: readonly ReadFile[];
  readonly detected: readonly DetectedFile[];
  readonly plans: readonly (readonly ColumnPlan[])[];
  readonly answers: readonly (FileChoices | undefined)[];
  readonly link: IdMatches;
  readonly ignored: readonly Ignorable[] | null;
  readonly period: PreparationChoices["period"];
}

export function openQuestions({
  read,
  detected,
  plans,
  answers,
  link,
  ignored,
  period,
}: Seen): OpenQuestion[] {
  const questions: OpenQuestion[] = [];
  detected.forEach(({ file, holds, columns }, at) => {
    const { sheets } = read[at];
    if (sheets !== undefined) {
      questions.push({
        file,
        column: null,
        key: "sheet",
        ask: "which sheet of the workbook",
        allowed: sheets,
      });
      return;
    }
    if (holds === null) {
      const ask =
        "whether these are readings of a screening, findings of an exam, or neither (an empty list)";
      questions.push({ file, column: null, key: "holds", ask, allowed: ["readings", "findings"] });
    }
    if (!columns.some(({ is }) => is === "subject")) {
      const ask = 'which column says which child a row belongs to; give it "is": "subject"';
      const allowed = columns
        .filter(({ is }) => !measuredRoles.has(is))
        .map(({ column }) => column);
      questions.push({ file, column: null, key: "columns", ask, allowed });
    }
    plans[at].forEach(({ detected: column, fate }) => {
      // a column that goes needs no answer
      if (fate === "drop" && (column.is === "unknown" || ownFate(at, column.column) === "drop"))
        return;
      for (const { key, ask, allowed } of column.questions) {
        questions.push({ file, column: column.column, key, ask, allowed });
      }
    });
  });
  if (ignored === null && read.every(({ sheets }) => sheets === undefined)) {
    questions.push({
      file: null,
      column: null,
      key: "ids.ignore",
      ask: matchWords(link),
      allowed: ignoreChoices(link),
    });
  }
  if (period?.every === "school-year" && period.schoolYearStarts === undefined) {
    const months = Array.from({ length: 12 }, (_, month) => String(month + 1));
    questions.push({
      file: null,
      column: null,
      key: "period.schoolYearStarts",
      ask: "the month in which the school year starts",
      allowed: months,
    });
  }
  return questions;

  function ownFate(at: number, column: string): unknown {
    const columns = answers[at]?.columns ?? {};
    return Object.hasOwn(columns, column) ? columns[column].fate : undefined;
  }
}

/** "136 of 201 match as written; 201 would match without leading zeros". */
export function matchWords({ children, matches }: IdMatches): string {
  const [asWritten, ...others] = matches;
  const least = Math.min(...children);
  const offers = others.map(({ ignore, matched, collisions }) => {
    const way = ignore.map((one) => ignorableWords[one]).join(" and ");
    const refused =
      collisions === 0 ? "" : `, but ${collisions} different ids would become one: refused`;
    return `${matched} would match ${way}${refused}`;
  });
  const none = children.length > 1 && asWritten.matched === 0 && offers.length === 0;
  return [
    `${asWritten.matched} of ${least} match as written`,
    ...offers,
    ...(none
      ? [
          'no other way of comparing matches any: is another column the id of one file (give it "is": "subject"), or a file the wrong one? [] goes on without a link',
        ]
      : []),
  ].join("; ");
}

function ignoreChoices({ matches }: IdMatches): string[] {
  return matches
    .filter(({ collisions }) => collisions === 0)
    .map(({ ignore }) => JSON.stringify(ignore));
}
