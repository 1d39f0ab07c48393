import { InputError } from "../results/index.js";

/** A test's result for each row: yes/no in any of these spellings, or "undecidable". */
export type TestColumn = ArrayLike<boolean | number | string>;
/** The condition of each row: yes/no. */
export type ConditionColumn = ArrayLike<boolean | number | string>;
/** Whose row it is. */
export type SubjectColumn = ArrayLike<string | number>;

/** Codes of a test: 1 positive (referred), 0 negative (passed), 2 undecidable. */
export function testCodes(caller: string, name: string, column: TestColumn): Uint8Array {
  const codes = new Uint8Array(column.length);
  for (let row = 0; row < column.length; row++) {
    const value = column[row];
    if (value === true || value === 1 || value === "refer") codes[row] = 1;
    else if (value === false || value === 0 || value === "pass") codes[row] = 0;
    else if (value === "undecidable") codes[row] = 2;
    else {
      throw new InputError(
        `${caller} requires ${name} to be true, false, 1, 0, "refer", "pass" or "undecidable", ` +
          `got ${String(value)} in row ${row}`,
      );
    }
  }
  return codes;
}

/** Codes of a condition: 1 with, 0 without, and 2 inconclusive where that is allowed. */
export function conditionCodes(
  caller: string,
  name: string,
  column: ConditionColumn,
  inconclusive: "allowed" | "refused" = "refused",
): Uint8Array {
  const codes = new Uint8Array(column.length);
  for (let row = 0; row < column.length; row++) {
    const value = column[row];
    if (value === true || value === 1) codes[row] = 1;
    else if (value === false || value === 0) codes[row] = 0;
    else if (inconclusive === "allowed" && value === "inconclusive") codes[row] = 2;
    else {
      const more = inconclusive === "allowed" ? ' or "inconclusive"' : "";
      throw new InputError(
        `${caller} requires ${name} to be true, false, 1, 0${more}, got ${String(value)} in row ${row}`,
      );
    }
  }
  return codes;
}

/** Columns of one length, each of them there. */
export function requireSameLength(
  caller: string,
  columns: { readonly [name: string]: ArrayLike<unknown> },
): number {
  const sizes = Object.entries(columns).map(([name, column]) => {
    if (typeof column?.length !== "number") {
      throw new InputError(`${caller} requires a column ${name}, got ${typeof column}`);
    }
    return { name, length: column.length };
  });
  if (sizes.some(({ length }) => length !== sizes[0].length)) {
    throw new InputError(
      `${caller} requires columns of one length, got ${sizes.map(({ name, length }) => `${name} ${length}`).join(", ")}`,
    );
  }
  return sizes[0]?.length ?? 0;
}
