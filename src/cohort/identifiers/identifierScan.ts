import {
  type IdentifierKind,
  kindOfCell,
  kindOfHeader,
  looksLikeNames,
} from "../../privacy/index.js";
import { holdsNotation } from "../../refraction/index.js";
import type { AgeUnit, ColumnMapping } from "../columnMapping.js";
import { ageColumnsOf, personColumns } from "../mappingChecks.js";
import { monthsOf } from "../read/readAges.js";
import { parseNumber, type TextTable } from "../read/textTable.js";

/** A column that looks like a direct identifier; its cells are never shown. */
export interface SuspectedIdentifier {
  readonly column: string;
  readonly kind: IdentifierKind;
  /** Whether the column's name or its cells gave it away. */
  readonly because: "name" | "cells";
  /** Rows whose cell looks so; all filled rows where the name gave it away. */
  readonly rows: number;
}

/** What is known of a list of distinct words, which may grow. */
interface LookedThrough {
  /** How many of them have been looked at. */
  labels: number;
  /** Those that look like an identifier, and the empty one, by their codes. */
  readonly kinds: Map<number, IdentifierKind | "">;
}

/** A word that `prepareFiles` writes in place of another. */
const codedWord = /^(Site|Examiner|Code) \d{2,}$/;

/**
 * Looks at every cell, each distinct text once; tables are added one after another. A mapping says
 * which columns hold ages and in what unit; otherwise their names do.
 */
export function identifierScan(header: readonly string[], mapping: ColumnMapping | null = null) {
  const mappedAges = ageColumns(mapping);
  const persons = mapping === null ? new Set<string>() : personColumns(mapping);
  const columns = header.map((name) => ({
    name,
    ages: mappedAges.has(name) ? agesIn(mappedAges.get(name)) : agesOver89(name),
    inMonths: mappedAges.get(name) === "years-and-months",
    rows: new Map<IdentifierKind, number>(),
    lists: new Map<readonly string[], LookedThrough>(),
    filled: 0,
  }));
  type Column = (typeof columns)[number];

  return {
    add(table: TextTable): void {
      columns.forEach((column, index) => {
        const oddRows = table.oddRows(index);
        if (oddRows === null) addWords(column, table.coded(index), table.decimal);
        else addNumbers(column, table.numbers(index), oddRows, (row) => table.text(index, row));
      });
    },

    /** @param subject the declared subject column, whose codes are no codes of an unknown kind */
    finish(subject: string | null, options: { uniqueCodes: boolean }): SuspectedIdentifier[] {
      return columns.flatMap((column) => {
        const { name: columnName, rows, filled } = column;
        const found: SuspectedIdentifier[] = [];
        const distinct = distinctWords(column.lists);
        const byName = kindOfHeader(columnName);
        // a column of remarks that holds numbers holds codes
        const numbersOnly =
          byName === "free-text" && distinct.every((text) => !/\p{L}/u.test(text));
        // what was coded keeps its heading, a village or an examiner's initials
        const coded = distinct.length > 0 && distinct.every((text) => codedWord.test(text));
        const announced = numbersOnly || coded ? null : byName;
        const exempt = columnName === subject && announced === "record-number";
        if (announced !== null && filled > 0 && !exempt) {
          found.push({ column: columnName, kind: announced, because: "name", rows: filled });
        }
        for (const [kind, count] of rows) {
          if (kind !== announced) {
            found.push({ column: columnName, kind, because: "cells", rows: count });
          }
        }
        if (
          announced !== "name" &&
          (looksLikeNames(distinct) || namesPersons(columnName, distinct))
        ) {
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

  /** In a column that says who measured, one capitalised word is enough; but for the codes that `prepare` writes. */
  function namesPersons(name: string, distinct: readonly string[]): boolean {
    const isName = (text: string) => /\p{Lu}\p{Ll}{2,}/u.test(text) && !/^Examiner \d+$/.test(text);
    return persons.has(name) && distinct.some(isName);
  }

  function addWords(
    column: Column,
    { codes, labels }: ReturnType<TextTable["coded"]>,
    decimal: TextTable["decimal"],
  ): void {
    const looked = column.lists.get(labels) ?? { labels: 0, kinds: new Map() };
    column.lists.set(labels, looked);
    for (; looked.labels < labels.length; looked.labels++) {
      const label = labels[looked.labels];
      const kind = kindOfWord(column, label, decimal);
      if (kind !== null) looked.kinds.set(looked.labels, kind);
    }
    column.filled += codes.length;
    if (looked.kinds.size === 0) return;
    for (const code of codes) {
      const kind = looked.kinds.get(code);
      if (kind === "") column.filled--;
      else if (kind !== undefined) count(column, kind);
    }
  }

  function kindOfWord(
    column: Column,
    label: string,
    decimal: TextTable["decimal"],
  ): IdentifierKind | "" | null {
    if (label === "") return "";
    const kind = kindOfCell(label);
    return (
      // a prescription with blanks between its parts is not text
      (kind === "free-text" && holdsNotation(label) ? null : kind) ??
      (column.ages === null ? null : kindOfAge(column, ageOf(column, label, decimal)))
    );
  }

  /** An age of years and months in months; its whole number alone in years. */
  function ageOf({ inMonths }: Column, label: string, decimal: TextTable["decimal"]): number {
    const number = parseNumber(label, decimal);
    if (!inMonths) return number;
    return Number.isNaN(number) ? monthsOf(label) : 12 * number;
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
    if (column.ages === null) return;
    for (let row = 0; row < numbers.length; row++) {
      const kind = kindOfAge(column, numbers[row]);
      if (kind !== null) count(column, kind);
    }
  }

  function kindOfAge({ ages }: Column, value: number): IdentifierKind | null {
    return ages !== null && value > ages.over && value <= ages.to ? "age-over-89" : null;
  }

  function count(column: Column, kind: IdentifierKind): void {
    column.rows.set(kind, (column.rows.get(kind) ?? 0) + 1);
  }
}

/**
 * Ages over 89 years single out a person; in months where the name says so. Beyond 120 years nobody
 * has such an age: that is a bad cell, and no identifier.
 */
function agesOver89(name: string): { over: number; to: number } | null {
  if (!/(^|[^a-z])age([^a-z]|$)|^age[A-Z]/i.test(name)) return null;
  return agesIn(/month/i.test(name) ? "months" : "years");
}

function agesIn(unit: ColumnMapping["age"]): { over: number; to: number } {
  return unit === "months" || unit === "years-and-months"
    ? { over: 90 * 12 - 1, to: 120 * 12 }
    : { over: 89, to: 120 };
}

/** The columns that a mapping reads ages from, with their units. */
function ageColumns(mapping: ColumnMapping | null): ReadonlyMap<string, AgeUnit | undefined> {
  if (mapping === null) return new Map();
  const { columns, readings = [], findings = [] } = mapping;
  const ages = [...readings, ...findings].flatMap((block) => [
    block.columns?.age,
    block.right?.age,
    block.left?.age,
  ]);
  return new Map(
    [columns.age, ...ages]
      .flatMap((age) => ageColumnsOf(mapping, age))
      .map(({ column, unit }) => [column, unit]),
  );
}

/** The distinct words of a column; a list of a scanned file is not copied. */
function distinctWords(lists: ReadonlyMap<readonly string[], LookedThrough>): readonly string[] {
  const [first, ...others] = lists;
  if (first !== undefined && others.length === 0) {
    const [labels, { kinds }] = first;
    if (![...kinds.values()].includes("")) return labels;
  }
  return [...lists.keys()].flat().filter((label) => label !== "");
}

/** Whole numbers of five digits or more, or letters with digits, hardly ever twice. */
function isUniqueCode(distinct: readonly string[], filled: number): boolean {
  if (distinct.length < 20 || distinct.length < filled / 2.5) return false;
  const codes = distinct.filter(
    (text) => /^\d{5,}$/.test(text) || /^(?=.*\d)(?=.*[A-Za-z])[\w-]{5,}$/.test(text),
  );
  return codes.length > distinct.length / 2;
}
