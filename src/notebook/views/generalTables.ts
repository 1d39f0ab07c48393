import type { CellFormat, TableCell, TableModel, TableRow } from "../../results/index.js";
import { isTwoByTwo, twoByTwoTable } from "./twoByTwoTable.js";
import { titleOf, wordsOf } from "./words.js";

interface How {
  /** How a member is printed, by its name and value. */
  readonly format: (key: string, value: unknown) => CellFormat;
  /** Whether of a result in the result only its estimates and p are shown. */
  readonly brief: boolean;
}

const mostRows = 40;
const mostListed = 20;
const mostColumns = 10;

/**
 * Tables of any result: its numbers, texts and estimates in one, each 2x2 table as such, and each list of
 * things, such as groups or steps, with a row for each. Rates stand in percent. Notes and the caution stand
 * below the last.
 */
export function generalTables(
  result: object,
  options: {
    readonly first?: readonly string[];
    readonly hidden?: readonly string[];
    /** How members are printed by their names; those of an object made by hand are numbers. */
    readonly format?: How["format"];
  } = {},
): TableModel[] {
  const { first = [], hidden = [] } = options;
  const how: How = {
    format: options.format ?? (() => "number"),
    brief: options.format !== undefined,
  };
  const { kind, notes, caution, ...others } = result as { [member: string]: unknown };
  const place = (key: string) => (first.includes(key) ? first.indexOf(key) : first.length);
  const shown = members(others)
    .filter(([key]) => !hidden.includes(key))
    .toSorted(([one], [other]) => place(one) - place(other));
  const title = typeof kind === "string" ? titleOf(kind) : "result";
  const tables = shown.flatMap(([key, value]) => ownTables(key, value, how));
  const rows = shown.flatMap(([key, value]) => rowsOf(key, value, "", how));
  const left = rows.length - mostRows;
  const main = rows.length === 0 ? [] : [mainTable(title, rows)];
  const all = [...tables.filter(leads), ...main, ...tables.filter((table) => !leads(table))];
  const below = [
    ...(left > 0 ? [`${left} more members are not shown`] : []),
    ...(Array.isArray(notes) ? notes.map(String) : []),
    ...(typeof caution === "string" ? [caution] : []),
  ];
  return all.map((table, at) =>
    at === all.length - 1 ? { ...table, notes: [...table.notes, ...below] } : table,
  );
}

/** A 2x2 table stands above the rates that are made of it. */
const leads = ({ columns }: TableModel): boolean => columns[1]?.label === "With the condition";

/** Columns of data, what is absent and what is empty say nothing to a reader. */
const isShown = (value: unknown): boolean =>
  value !== undefined &&
  value !== null &&
  typeof value !== "function" &&
  !ArrayBuffer.isView(value) &&
  !(Array.isArray(value) && value.length === 0);

function mainTable(title: string, rows: readonly TableRow[]): TableModel {
  return {
    kind: "table",
    title,
    columns: [
      { label: "what", format: "text" },
      { label: "value", format: "number" },
    ],
    rows: rows.slice(0, mostRows),
    notes: [],
  };
}

/** Rows of the main table: one for each number, text and estimate of a member and of its members. */
function rowsOf(key: string, value: unknown, prefix: string, how: How): TableRow[] {
  const label = prefix === "" ? wordsOf(key) : `${prefix}, ${wordsOf(key)}`;
  const cell = cellOf(key, value, how);
  if (cell !== undefined) {
    return [{ cells: [label, cell.value], format: cell.format }];
  }
  if (typeof value !== "object" || value === null || Array.isArray(value)) return [];
  if (isTwoByTwo(value) || prefix !== "") return [];
  if ("kind" in value && how.brief) {
    return innerCells(value, how).map(([name, one]) => ({
      cells: [`${label}, ${name}`, one.value],
      format: one.format,
    }));
  }
  return members(value).flatMap(([name, member]) => rowsOf(name, member, label, how));
}

interface Cell {
  readonly value: TableCell;
  readonly format: CellFormat;
}

/** A single cell for a value, or nothing where it needs a table of its own. */
function cellOf(key: string, value: unknown, how: How): Cell | undefined {
  if (typeof value === "number") return numberCell(value, how.format(key, value));
  if (typeof value === "string" || typeof value === "boolean") {
    return { value: String(value), format: "text" };
  }
  if (Array.isArray(value)) {
    const text = listText(value);
    return text === null ? undefined : { value: text, format: "text" };
  }
  if (typeof value !== "object") return undefined;
  const { kind, low, high } = value as { kind?: unknown; low?: unknown; high?: unknown };
  if (typeof kind === "string" && single.has(kind)) {
    return { value: value as TableCell, format: how.format(key, value) };
  }
  if (kind === "bounds" && typeof low === "number" && typeof high === "number") {
    return { value: `${percentOf(low)} to ${percentOf(high)} %`, format: "text" };
  }
  return undefined;
}

const single = new Set(["estimate", "one-sided", "undefined", "suppressed"]);

const percentOf = (share: number): string => String(Number((100 * share).toFixed(1)));

/** Whole numbers as counts; a stated 0.95 as it is; what was computed is left to the writer. */
function numberCell(value: number, format: CellFormat): Cell {
  if (format !== "number") return { value, format };
  if (Number.isInteger(value)) return { value, format: "count" };
  return String(value).length <= 5 ? { value: String(value), format: "text" } : { value, format };
}

/** A short list of numbers or words in one cell; null where it is long, or holds other things. */
function listText(list: readonly unknown[]): string | null {
  if (list.every(Array.isArray)) {
    const parts = list.map((one) => listText(one));
    return list.length > 8 || parts.includes(null) ? null : parts.join("; ");
  }
  const plain = list.every((item) => typeof item !== "object" || item === null);
  if (!plain || list.length > 8) return null;
  const text = (item: unknown) =>
    typeof item === "number" ? String(Number(item.toPrecision(4))) : String(item);
  return list.map(text).join(", ");
}

/** Tables that a member makes of its own: a 2x2 table, a list of things, or those of its members. */
function ownTables(key: string, value: unknown, how: How, depth = 0): TableModel[] {
  if (typeof value !== "object" || value === null || ArrayBuffer.isView(value)) return [];
  if (Array.isArray(value)) return listTable(key, value, how);
  if (isTwoByTwo(value)) {
    return [twoByTwoTable(value, depth === 0 && key === "table" ? "" : wordsOf(key))];
  }
  if (cellOf(key, value, how) !== undefined || depth > 0) return [];
  return Object.entries(value).flatMap(([name, member]) => ownTables(name, member, how, depth + 1));
}

/** A list of things as rows: what they are called, then their numbers; long plain lists are counted. */
function listTable(key: string, list: readonly unknown[], how: How): TableModel[] {
  if (listText(list) !== null || list.length === 0) return [];
  const title = wordsOf(key);
  const isThing = (item: unknown): item is object =>
    typeof item === "object" && item !== null && !Array.isArray(item);
  const things = list.filter(isThing);
  if (things.length < list.length) {
    const row = { cells: [title, `${list.length} entries`], format: "text" as const };
    return [mainTable(title, [row])];
  }
  const flat = things.slice(0, mostListed).map((thing) => flatten(thing, how));
  const names = [...new Set(flat.flatMap((one) => [...one.keys()]))];
  const shown = names.slice(0, mostColumns);
  const left = things.length - mostListed;
  return [
    {
      kind: "table",
      title,
      columns: shown.map((name) => {
        const formats = new Set(
          flat.flatMap((one) => {
            const cell = one.get(name);
            return cell === undefined ? [] : [cell.format];
          }),
        );
        return { label: name, format: formats.size === 1 ? [...formats][0]! : "text" };
      }),
      rows: flat.map((one) => ({ cells: shown.map((name) => one.get(name)?.value ?? null) })),
      notes: left > 0 ? [`${left} more are not shown`] : [],
    },
  ];
}

/** What one thing of a list says. Of a result in it, such as a group's agreement, estimates and counts alone. */
function flatten(thing: object, how: How): Map<string, Cell> {
  const found = new Map<string, Cell>();
  for (const [key, value] of members(thing)) {
    const cell = cellOf(key, value, how);
    if (cell !== undefined) found.set(wordsOf(key), cell);
    else if (typeof value === "object" && value !== null && !Array.isArray(value)) {
      const isResult = "kind" in value && how.brief;
      for (const [name, one] of innerCells(value, how)) {
        const label = isResult || isTwoByTwo(value) ? name : `${wordsOf(key)}, ${name}`;
        if (!found.has(label)) found.set(label, one);
      }
    }
  }
  return found;
}

function innerCells(value: object, how: How): [name: string, cell: Cell][] {
  return members(value).flatMap(([key, member]): [string, Cell][] => {
    if (typeof member === "object" && member !== null && isTwoByTwo(member)) {
      return innerCells(member, how);
    }
    const cell = cellOf(key, member, how);
    if (cell === undefined) return [];
    const isAnswer = (typeof cell.value === "object" && cell.value !== null) || cell.format === "p";
    return "kind" in value && how.brief && !isAnswer ? [] : [[wordsOf(key), cell]];
  });
}

const members = (thing: object): [key: string, value: unknown][] =>
  Object.entries(thing).filter(
    ([key, value]) => !["kind", "notes", "caution"].includes(key) && isShown(value),
  );
