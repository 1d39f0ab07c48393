import type { DateOrder, Eye } from "../../cohort/index.js";
import type { EyesInCell } from "../../refraction/index.js";
import type { ColumnFacts } from "./columnFacts.js";
import type { AcuityNotation, AgeUnit } from "./details.js";
import type { Role } from "./roles.js";

export type Holds = "readings" | "findings";

/** What a person said of a column; what is not said is detected. */
export interface ColumnAnswers {
  readonly is?: Role | null;
  readonly eye?: Eye | null;
  readonly eyes?: EyesInCell | null;
  readonly block?: string;
  readonly of?: Holds | null;
  readonly order?: DateOrder | null;
  readonly century?: number | null;
  readonly unit?: AgeUnit | null;
  readonly notation?: AcuityNotation | null;
}

/** Something only a person knows: which key of the column's answers, and what it may be. */
export interface Question {
  readonly key: keyof ColumnAnswers;
  readonly ask: string;
  readonly allowed: readonly string[];
}

/** What a column is taken for, and why. */
export interface DetectedColumn {
  readonly column: string;
  readonly is: Role;
  readonly eye: Eye | null;
  /** How both eyes stand in a cell of a prescription; null where one does. */
  readonly eyes: EyesInCell | null;
  /** The words that tell one measurement of a row from another; "" where there is one. */
  readonly block: string;
  /** Whose measurement, where the file holds both. */
  readonly of: Holds | null;
  readonly order: DateOrder | null;
  readonly century: number | null;
  readonly unit: AgeUnit | null;
  readonly notation: AcuityNotation | null;
  readonly because: string;
  readonly questions: readonly Question[];
  readonly facts: ColumnFacts;
}

export interface DetectedFile {
  readonly file: string;
  /** Null where neither names nor days tell whether these are readings or findings. */
  readonly holds: readonly Holds[] | null;
  readonly columns: readonly DetectedColumn[];
}

/** What a person said of a file. */
export interface FileAnswers {
  readonly holds?: readonly Holds[] | null;
  readonly columns?: Readonly<Record<string, ColumnAnswers>>;
}
