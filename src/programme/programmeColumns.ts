import { type ForAudience, InputError } from "../results/index.js";
import { type Labels, requireSameLength } from "../rows/index.js";

/** What a programme did with each eligible child, one row a child. */
export interface ProgrammeColumns extends ForAudience {
  /** "refer", "pass", "unable" (no complete reading in the end), or "not-screened". */
  readonly decision: ArrayLike<string>;
  /** With the condition at the exam; null where not examined, or the exam does not say. */
  readonly condition: ArrayLike<boolean | null>;
  /** "referred", "sampled" (drawn), "self-presented", "unknown" or "not-examined". */
  readonly reason: ArrayLike<string>;
  /** Asked to an exam; null: not recorded. Without it those referred and those drawn. */
  readonly invited?: ArrayLike<boolean | null>;
  /** Came to an exam; null: not recorded. Without it those whose exam is known. */
  readonly came?: ArrayLike<boolean | null>;
  /** Days from screening to exam; NaN where there was none, or a day is missing. */
  readonly daysToExam?: ArrayLike<number>;
  /** Times the child was tried. */
  readonly attempts?: ArrayLike<number>;
  /** Whether the first attempt gave both eyes a result; null: not known. */
  readonly readAtFirst?: ArrayLike<boolean | null>;
  /** What the programme's declared rule says: "refer", "pass" or "unable"; null: nothing. */
  readonly declared?: ArrayLike<string | null>;
  /** As in `correctByDecision`. */
  readonly selfPresented?: ArrayLike<boolean | null>;
  readonly strata?: ArrayLike<string>;
  readonly shareDrawn?: ArrayLike<number>;
  /** The site above each child (school, district), where intervals are to go by site. */
  readonly site?: Labels;
  /** Groupings by name, such as site or school year: each child's group. */
  readonly by?: { readonly [grouping: string]: ArrayLike<string> };
}

const decisions: readonly string[] = ["refer", "pass", "unable", "not-screened"];

/** Checks lengths and words; gives the number of children. */
export function requireProgrammeColumns(caller: string, columns: ProgrammeColumns): number {
  const { by = {}, audience: _, ...own } = columns;
  const given = Object.entries({ ...own, ...by }).filter(([, column]) => column !== undefined);
  const n = requireSameLength(caller, Object.fromEntries(given));
  for (let row = 0; row < n; row++) {
    if (!decisions.includes(columns.decision[row])) {
      throw new InputError(
        `${caller} requires decision ${decisions.join(", ")}, got "${columns.decision[row]}" in row ${row}; give the word of the programme one of these names`,
      );
    }
    const declared = columns.declared?.[row] ?? "pass";
    if (!decisions.slice(0, 3).includes(declared)) {
      throw new InputError(
        `${caller} requires declared ${decisions.slice(0, 3).join(", ")} or null, got "${declared}" in row ${row}`,
      );
    }
    if (columns.decision[row] === "not-screened" && columns.condition[row] !== null) {
      throw new InputError(
        `${caller} requires condition null where a child was not screened, got ${columns.condition[row]} in row ${row}; an exam without a screening says nothing of the programme`,
      );
    }
  }
  return n;
}
