import type { ColumnMapping } from "../columnMapping.js";
import { type Code, codeNumber, codeWords } from "./codeWords.js";

/** Which cells of one column say that nothing is known. */
export interface MissingCells {
  /** Whether a cell that is not empty says so. */
  readonly says: (text: string) => boolean;
  /** The codes that are numbers. */
  readonly numbers: ReadonlySet<number>;
  /** Codes of the list for all columns that this column may hold as values: they stay values, and are listed. */
  readonly doubtful: ReadonlySet<number>;
}

/** What a column holds, as far as a number code of the list for all columns matters in it. */
type Holds =
  /** Numbers between these limits, which are no codes. */
  | readonly [number, number]
  /** Names, any of which may be a number. */
  | "names"
  /** Words, or numbers without bounds, such as days. */
  | "anything";

/**
 * The codes of a mapping that mean missing, column by column. A code of a column, or of what a column
 * holds, counts there whatever it is. A code for all columns counts everywhere where it is a word; where it is a
 * number it counts in columns of words, in numbers without bounds (days, scores without a scale), and where
 * the quantity cannot be that number: 888 is no sphere, but 88 is an axis, an age and a subject, and stays one.
 */
export function missingCodes(mapping: ColumnMapping) {
  const decimal = mapping.text?.decimal ?? ".";
  const { missing = [] } = mapping;
  const given = Array.isArray(missing) ? { everywhere: missing as readonly Code[] } : missing;
  const {
    everywhere = [],
    columns = {},
    quantities = {},
  } = given as {
    everywhere?: readonly Code[];
    columns?: Readonly<Record<string, readonly Code[]>>;
    quantities?: Readonly<Record<string, readonly Code[] | undefined>>;
  };
  const ofColumn = new Map(Object.entries(columns));
  const ofQuantity = new Map(Object.entries(quantities));
  const known = new Map<string, MissingCells>();

  /** @param key what the column holds, such as "sphere" */
  return (key: string, column: string, holds: Holds): MissingCells => {
    const id = JSON.stringify([key, column, holds]);
    let cells = known.get(id);
    if (cells === undefined) {
      const own = [...(ofColumn.get(column) ?? []), ...(ofQuantity.get(key) ?? [])];
      const ownNumbers = new Set(own.map((code) => codeNumber(code, decimal)));
      const doubtful = new Set<number>();
      const counted = everywhere.filter((code) => {
        const number = codeNumber(code, decimal);
        if (Number.isNaN(number) || holds === "anything" || ownNumbers.has(number)) return true;
        if (holds === "names") return false;
        if (!(number >= holds[0] && number <= holds[1])) return true;
        doubtful.add(number);
        return false;
      });
      const codes = codeWords(
        [...own, ...counted].map((code) => [code, true] as const),
        decimal,
      );
      cells = {
        says: (text) => codes.of(text) === true,
        numbers: new Set(codes.numbers.keys()),
        doubtful,
      };
      known.set(id, cells);
    }
    return cells;
  };
}

/** No code at all. */
export const nothingMissing: MissingCells = {
  says: () => false,
  numbers: new Set(),
  doubtful: new Set(),
};
