import type { CodedTable } from "../../cohort/index.js";
import { type Ignorable, idNormaliser } from "./normaliseId.js";

/** The children of all files, and which of them each row is of. */
export interface LinkedChildren {
  /** Ids as they are compared. */
  readonly ids: readonly string[];
  /** For each file the child of each row; -1 where the row has no id. */
  readonly childOf: readonly Int32Array[];
}

/** @param subjectAt for each file the position of the column with the ids */
export function linkChildren(
  tables: readonly CodedTable[],
  subjectAt: readonly number[],
  ignore: readonly Ignorable[],
  isMissing: (text: string) => boolean,
): LinkedChildren {
  const known = new Map<string, number>();
  const childOf = tables.map((table, file) => {
    if (subjectAt[file] < 0) return new Int32Array(table.n).fill(-1);
    const { codes, labels } = table.columns[subjectAt[file]];
    const filled = labels.filter((label) => !isMissing(label));
    const normal = idNormaliser(ignore, filled);
    const childOfLabel = Int32Array.from(labels, (label) => {
      if (isMissing(label)) return -1;
      const id = normal(label);
      const found = known.get(id);
      if (found !== undefined) return found;
      known.set(id, known.size);
      return known.size - 1;
    });
    return codes.map((code) => childOfLabel[code]);
  });
  return { ids: [...known.keys()], childOf };
}
