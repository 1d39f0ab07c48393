import { InputError } from "../results/index.js";
import type { Problem } from "./types.js";

export interface ProblemLog {
  readonly file: string;
  readonly add: (
    row: number | null,
    column: string | null,
    value: string,
    rule: ProblemRule,
    action: Problem["action"],
    detail?: string,
  ) => void;
  readonly problems: Problem[];
}

/** Every rule of the readers, in words. */
export const problemRules = {
  "ragged-row": "the row has another number of cells than the header",
  "subject-missing": "a row needs a subject",
  "eye-unknown": "the eye is none of the words declared for right and left",
  "not-a-number": "the cell is neither a number nor a declared mark or missing code",
  "missing-code-kept":
    "a number that means missing everywhere is a possible value of this column, and stayed one",
  "sphere-range": "a sphere lies between -40 and +40 D",
  "cylinder-range": "a cylinder lies between -20 and +20 D",
  "axis-range": "an axis lies between 0 and 180 degrees",
  "axis-missing": "a cylinder without an axis: M is usable, J0 and J45 are missing",
  "axis-beside-zero-cylinder": "an axis beside a zero cylinder means nothing",
  "cylinder-missing": "a sphere without a cylinder: M, J0 and J45 are missing",
  "sphere-missing": "a cylinder without a sphere: M is missing",
  "cylinder-sign": "the cylinder has the other sign than the one declared",
  "mixed-cylinder-sign": "the cylinder has the sign that is rarer in this block",
  "stated-equivalent": "the stated equivalent is not sphere plus half the cylinder",
  "stated-equivalent-alone": "a stated equivalent without sphere and cylinder",
  "range-end": "the sphere lies at the end of the instrument's declared range",
  "suspected-range-end": "the sphere lies where the instrument's readings seem to be cut off",
  "working-distance-removed": "the working distance was taken off this retinoscopy sphere",
  "word-unknown": "the word is none of those declared for this column",
  "status-contradiction": "the status says there is no reading, yet numbers are there",
  "age-range": "an age lies between 0 and 120 years",
  "age-not-whole": "completed years or months are whole; the rest was cut off",
  "age-contradicts": "one subject with several ages on one day",
  "number-shared": "several children seem to share one number: their ages contradict each other",
  "value-range": "the value lies outside what this quantity can be",
  "not-whole": "a day or a repeat is a whole number",
  "prescription-unclear": "the text is not a prescription",
  "eye-twice": "this eye has more than one row with the same key",
  "acuity-unknown": "the acuity cannot be read in the declared notation",
  "eyes-swapped": "right and left seem to be exchanged: crosswise agreement is closer",
  "cylinder-convention": "the cylinder's convention looks reversed against the other source",
  "decision-unable-read":
    "the programme's decision is unable, yet both eyes gave a value: correct one of the two, or leave the decision as the programme's own",
  "decision-pass-unread":
    "the programme's decision is pass, yet no eye gave a value: a child without a reading is no pass; write unable, or leave it as the programme's own",
  "decision-changed":
    "a child's later line has another decision of the programme: the last one counts; keep one a child",
  "exam-before-screening":
    "the exam's day lies before that of the screening: correct a day, or set daysBetween in the protocol's linkage, which leaves such exams out",
  heaping: "one last digit is far more frequent than the others",
  "vertex-differs": "the measurements of this file lie at several vertex planes",
} as const;
export type ProblemRule = keyof typeof problemRules;

const severe: ReadonlySet<Problem["action"]> = new Set(["set-aside", "row-rejected"]);

/** Collects problems; `strict` stops on the first cell that is set aside. */
export function problemLog(
  file: string,
  { strict = false } = {},
  problems: Problem[] = [],
): ProblemLog {
  return {
    file,
    problems,
    add(row, column, value, rule, action, detail) {
      const message = problemRules[rule];
      if (strict && severe.has(action)) {
        const where = row === null ? file : `line ${row} of ${file}`;
        const cell = column === null ? "one in" : `"${value}" in column "${column}",`;
        throw new InputError(
          `strict reading requires no cell that is set aside and no row that is rejected, got ${cell} ${where}: ${detail ?? message}`,
        );
      }
      const problem = { file, row, column, value, rule, message, action };
      problems.push(detail === undefined ? problem : { ...problem, detail });
    },
  };
}

/** How often each rule was broken. */
export interface ProblemsByRule {
  readonly kind: "problems-by-rule";
  /** Problems counted. */
  readonly n: number;
  /** Most frequent first. */
  readonly rules: readonly RuleCount[];
}

/** How often one rule was broken, and what was done. */
export interface RuleCount {
  readonly rule: string;
  readonly action: Problem["action"];
  readonly count: number;
  readonly message: string;
}

/**
 * How often each rule was broken, most frequent first.
 *
 * @param problems of `readReadings` or `readFindings`, of one file or of several
 *
 * @example
 * const eye = { subject: "a", eye: "OD", sphere: 4, cylinder: 0, axis: 180 };
 * problemsByRule((await readReadings([{ ...eye, axis: 200 }])).problems).rules.map(({ rule, count }) => [rule, count]) // => [["axis-range", 1]]
 */
export function problemsByRule(problems: readonly Problem[]): ProblemsByRule {
  const counts = new Map<string, { -readonly [key in keyof RuleCount]: RuleCount[key] }>();
  for (const { rule, action, message } of problems) {
    const key = `${rule} ${action}`;
    const entry = counts.get(key);
    if (entry === undefined) counts.set(key, { rule, action, count: 1, message });
    else entry.count++;
  }
  const rules = [...counts.values()].sort(
    (a, b) => b.count - a.count || (a.rule < b.rule ? -1 : 1),
  );
  return { kind: "problems-by-rule", n: problems.length, rules };
}

/** How often one rule was broken in one column, and where first. */
export interface ColumnCount extends RuleCount {
  readonly column: string | null;
  /** Of the file's measurements of an eye. */
  readonly share: number;
  /** Up to three different cells, the first line of each, and what of it broke the rule where that is known. */
  readonly places: readonly {
    readonly row: number | null;
    readonly value: string;
    readonly detail?: string;
  }[];
}

/**
 * How often each rule was broken in each column, most frequent first.
 *
 * @param n the file's measurements of an eye
 */
export function problemsByColumn(problems: readonly Problem[], n: number): ColumnCount[] {
  const lists = new Map<string, Problem[]>();
  for (const problem of problems) {
    const key = JSON.stringify([problem.rule, problem.action, problem.column]);
    const list = lists.get(key);
    if (list === undefined) lists.set(key, [problem]);
    else list.push(problem);
  }
  return [...lists.values()]
    .map((list) => {
      const [{ rule, action, column, message }] = list;
      const places = new Map<string, ColumnCount["places"][number]>();
      for (const { row, value, detail } of list) {
        if (places.size === 3) break;
        if (!places.has(value))
          places.set(value, detail === undefined ? { row, value } : { row, value, detail });
      }
      const count = list.length;
      return {
        rule,
        action,
        column,
        count,
        share: count / n,
        message,
        places: [...places.values()],
      };
    })
    .sort((a, b) => b.count - a.count || (a.rule < b.rule ? -1 : 1));
}
