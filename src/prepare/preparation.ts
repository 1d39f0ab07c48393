import type { ColumnMapping } from "../cohort/index.js";
import type { RunOptions } from "../results/index.js";
import type { PreparationChoices } from "./choices.js";
import type { IdMatches } from "./ids/linkReport.js";
import type { Ignorable } from "./ids/normaliseId.js";
import type { LeftOut } from "./mapping/proposeMapping.js";
import type { OpenQuestion } from "./openQuestions.js";

export interface PrepareOptions extends RunOptions {
  /** The folder of the study files; made where it does not exist. */
  readonly to: string;
  /** The folder of the key table, which is not passed on; by default `to` with "-key" behind. */
  readonly key?: string;
}

/** What becomes of one column. */
export interface PreparedColumn {
  readonly column: string;
  readonly is: string;
  readonly fate: string | null;
  readonly because: string;
  readonly filled: number;
  /** Filled cells that the study file does not have, and why. */
  readonly loses: number;
  readonly lost: string;
  readonly examples: readonly string[];
}

export interface PreparedFile {
  readonly file: string;
  readonly as: string;
  readonly holds: readonly string[] | null;
  readonly rowCount: number;
  readonly columns: readonly PreparedColumn[];
  /** Rows of another width than the header, and rows without an id. */
  readonly rowsLeftOut: number;
  /** The first lines of them. */
  readonly linesLeftOut: readonly number[];
}

/** What was found in raw files, what was decided, and what is still asked. */
export interface Preparation {
  readonly kind: "preparation";
  /** Whether the study files were written. */
  readonly written: boolean;
  readonly files: readonly PreparedFile[];
  /** What only a person can say; while there is one, no study file is written. */
  readonly questions: readonly OpenQuestion[];
  /** What would be lost and nobody has seen yet; while there is something, no study file is written. */
  readonly unseenLosses: readonly {
    readonly file: string;
    readonly column: string | null;
    readonly loses: number;
  }[];
  readonly link: IdMatches & { readonly ignored: readonly Ignorable[]; readonly matched: number };
  /** Dates that cannot be in this order; listed, never repaired. The child is a study number. */
  readonly outOfOrder: readonly {
    readonly file: string;
    readonly line: number;
    readonly child: string;
    readonly what: string;
  }[];
  /** The answers as they stand, with what is open as null. */
  readonly choices: PreparationChoices;
  readonly mapping: ColumnMapping | null;
  readonly leftOut: readonly LeftOut[];
  readonly look: readonly string[];
  readonly note: string;
}
