import { InputError } from "../results/index.js";
import { shownValue } from "./shownValue.js";

/** Yes or no for each row: true or 1, false or 0. */
export type YesNoColumn = ArrayLike<boolean | number>;
/** A test's result for each row: yes or no, also as "refer" or "pass", or "undecidable". */
export type TestColumn = ArrayLike<boolean | number | string>;
/** How a row without a decision is counted. */
export type UndecidablePolicy = "refer" | "pass" | "exclude";
/** The condition of each row: yes or no, or "inconclusive" where that is allowed. */
export type ConditionColumn = ArrayLike<boolean | number | string>;

/** The code of a row that is neither yes (1) nor no (0), or that is not looked at. */
export const neitherCode = 2;

/**
 * Codes of a yes/no column: 1 for true or 1, 0 for false or 0. Nothing else is taken for either.
 *
 * @param more `words` that a column may also hold; rows of `only` that are 0 are not looked at;
 *   `cure`, what to do about an entry that is neither
 */
export function yesNoCodes(
  caller: string,
  name: string,
  column: ArrayLike<unknown>,
  more: {
    readonly words?: {
      readonly yes?: string;
      readonly no?: string;
      readonly neither?: string;
    };
    readonly only?: Uint8Array;
    readonly cure?: string;
  } = {},
): Uint8Array {
  const { words = {}, only, cure } = more;
  if (typeof column?.length !== "number") {
    throw new InputError(`${caller} requires a column ${name}, got ${typeof column}`);
  }
  const codes = new Uint8Array(column.length);
  for (let row = 0; row < codes.length; row++) {
    const value = column[row];
    if (only !== undefined && only[row] === 0) codes[row] = neitherCode;
    else if (value === true || value === 1) codes[row] = 1;
    else if (value === false || value === 0) codes[row] = 0;
    else if (typeof value === "string" && value === words.yes) codes[row] = 1;
    else if (typeof value === "string" && value === words.no) codes[row] = 0;
    else if (typeof value === "string" && value === words.neither) codes[row] = neitherCode;
    else {
      const allowed = ["true", "false", "1", "0", ...Object.values(words).map(shownValue)];
      const list = `${allowed.slice(0, -1).join(", ")} or ${allowed[allowed.length - 1]}`;
      throw new InputError(
        `${caller} requires ${name} to be ${list}, got ${shownValue(value)} in row ${row}` +
          (cure === undefined ? "" : `; ${cure}`),
      );
    }
  }
  return codes;
}

/** Codes of a test: 1 positive (referred), 0 negative (passed), 2 undecidable. */
export const testCodes = (caller: string, name: string, column: TestColumn): Uint8Array =>
  yesNoCodes(caller, name, column, {
    words: { yes: "refer", no: "pass", neither: "undecidable" },
  });

/** Codes of a condition, 1 with and 0 without; 2 in the rows that `only` leaves out. */
export const conditionCodes = (
  caller: string,
  name: string,
  column: ConditionColumn,
  only?: Uint8Array,
): Uint8Array =>
  yesNoCodes(caller, name, column, {
    only,
    cure: "a row without a finding is neither with nor without the condition: leave it out, or give verification or weights where the analysis takes them",
  });
