import { type IdentifierKind, kindOfCell, kindOfHeader, looksLikeNames } from "../privacy/index.js";
import { labelTranslator } from "./labelList.js";
import type { TextTable } from "./textTable.js";

/** A column that looks like a direct identifier; its cells are never shown. */
export interface SuspectedIdentifier {
  readonly column: string;
  readonly kind: IdentifierKind;
  /** Whether the column's name or its cells gave it away. */
  readonly because: "name" | "cells";
  /** Rows whose cell looks so; all filled rows where the name gave it away. */
  readonly rows: number;
}

/** Looks at every cell, each distinct text once; tables are added one after another. */
export function identifierScan(header: readonly string[]) {
  const columns = header.map((name) => ({
    name,
    oldest: limitOfAge(name),
    // whether some cell so far is empty or looks like an identifier, so that rows are to be counted
    mixed: false,
    kinds: labelTranslator<IdentifierKind | null>(kindOfCell),
    rows: new Map<IdentifierKind, number>(),
    /** How many labels of each list have been looked at. */
    looked: new Map<readonly string[], number>(),
    filled: 0,
    over89: 0,
  }));
  type Column = (typeof columns)[number];

  return {
    add(table: TextTable): void {
      columns.forEach((column, index) => {
        const oddRows = table.oddRows(index);
        if (oddRows === null) addWords(column, table.coded(index));
        else addNumbers(column, table.numbers(index), oddRows, (row) => table.text(index, row));
      });
    },

    /** @param subject the declared subject column, whose codes are no codes of an unknown kind */
    finish(subject: string | null, options: { uniqueCodes: boolean }): SuspectedIdentifier[] {
      return columns.flatMap((column) => {
        const { name: columnName, rows, filled, over89 } = column;
        const found: SuspectedIdentifier[] = [];
        const distinct = [...column.looked.keys()].flat().filter((label) => label !== "");
        const byName = kindOfHeader(columnName);
        // a column of remarks that holds numbers holds codes
        const codesOnly = byName === "free-text" && distinct.every((text) => !/\p{L}/u.test(text));
        const announced = codesOnly ? null : byName;
        const exempt = columnName === subject && announced === "record-number";
        if (announced !== null && filled > 0 && !exempt) {
          found.push({ column: columnName, kind: announced, because: "name", rows: filled });
        }
        for (const [kind, count] of rows) {
          if (kind !== announced) {
            found.push({ column: columnName, kind, because: "cells", rows: count });
          }
        }
        if (over89 > 0) {
          found.push({ column: columnName, kind: "age-over-89", because: "cells", rows: over89 });
        }
        if (announced !== "name" && looksLikeNames(distinct)) {
          found.push({ column: columnName, kind: "name", because: "cells", rows: filled });
        }
        const code = options.uniqueCodes && columnName !== subject && found.length === 0;
        if (code && isUniqueCode(distinct, filled)) {
          found.push({ column: columnName, kind: "unique-code", because: "cells", rows: filled });
        }
        return found;
      });
    },
  };

  function addWords(column: Column, { codes, labels }: ReturnType<TextTable["coded"]>): void {
    const known = column.looked.get(labels) ?? 0;
    const kinds = column.kinds(labels);
    for (let label = known; label < labels.length; label++) {
      column.mixed ||= labels[label] === "" || kinds[label] !== null;
    }
    column.looked.set(labels, labels.length);
    if (column.oldest === null && !column.mixed) {
      column.filled += codes.length;
      return;
    }
    for (const code of codes) {
      if (labels[code] === "") continue;
      column.filled++;
      const kind = kinds[code];
      if (kind !== null) count(column, kind);
      if (column.oldest !== null && Number(labels[code]) > column.oldest) column.over89++;
    }
  }

  /** A number between its limits is no identifier, but may be an age; the others have their text. */
  function addNumbers(
    column: Column,
    numbers: Float64Array,
    oddRows: readonly number[],
    textOf: (row: number) => string,
  ): void {
    column.filled += numbers.length;
    for (const row of oddRows) {
      const kind = kindOfCell(textOf(row));
      if (kind !== null) count(column, kind);
    }
    if (column.oldest === null) return;
    for (const value of numbers) if (value > column.oldest) column.over89++;
  }

  function count(column: Column, kind: IdentifierKind): void {
    column.rows.set(kind, (column.rows.get(kind) ?? 0) + 1);
  }
}

/** Ages over 89 years single out a person; in months where the name says so. */
function limitOfAge(name: string): number | null {
  if (!/(^|[^a-z])age([^a-z]|$)|^age[A-Z]/i.test(name)) return null;
  return /month/i.test(name) ? 90 * 12 - 1 : 89;
}

/** Whole numbers of five digits or more, or letters with digits, hardly ever twice. */
function isUniqueCode(distinct: readonly string[], filled: number): boolean {
  if (distinct.length < 20 || distinct.length < filled / 2.5) return false;
  const codes = distinct.filter(
    (text) => /^\d{5,}$/.test(text) || /^(?=.*\d)(?=.*[A-Za-z])[\w-]{5,}$/.test(text),
  );
  return codes.length > distinct.length / 2;
}
