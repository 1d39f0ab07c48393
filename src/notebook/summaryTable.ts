import type { CellFormat, TableCell, TableModel, TableRow } from "../results/index.js";

const limit = 40;

/**
 * A short table of any result: one row for each number, text or estimate in it and in its members;
 * what lies deeper is left out, long lists are counted. Notes and the caution stand below.
 */
export function summaryTable(result: object): TableModel {
  const { kind, notes, caution, ...members } = result as {
    kind?: unknown;
    notes?: unknown;
    caution?: unknown;
  };
  const all = rows(members, "", 0);
  const left = all.length - limit;
  return {
    kind: "table",
    title: typeof kind === "string" ? titleOf(kind) : "result",
    columns: [
      { label: "what", format: "text" },
      { label: "value", format: "number" },
    ],
    rows: all.slice(0, limit),
    notes: [
      ...(Array.isArray(notes) ? notes.map(String) : []),
      ...(typeof caution === "string" ? [caution] : []),
      ...(left > 0 ? [`${left} more members are not shown`] : []),
    ],
  };
}

function rows(members: object, prefix: string, depth: number): TableRow[] {
  return Object.entries(members).flatMap(([key, value]): TableRow[] => {
    const label = prefix === "" ? words(key) : `${prefix}, ${words(key)}`;
    const row = (cell: TableCell, format?: CellFormat): TableRow[] => [
      { cells: [label, cell], ...(format === undefined ? {} : { format }) },
    ];
    if (value === undefined || typeof value === "function" || (depth > 0 && key === "kind")) {
      return [];
    }
    if (value === null) return row(null);
    if (typeof value === "number") return row(...numberCell(value));
    if (typeof value !== "object") return row(String(value), "text");
    if (
      value.kind === "one-sided" ||
      value.kind === "estimate" ||
      value.kind === "undefined" ||
      value.kind === "suppressed"
    ) {
      return row(value);
    }
    if (Array.isArray(value) || ArrayBuffer.isView(value)) return row(listText(value), "text");
    return depth > 0 ? [] : rows(value, label, depth + 1);
  });
}

/** Whole numbers as counts; a stated 0.95 as it is; what was computed is left to the writer. */
function numberCell(value: number): [TableCell, CellFormat?] {
  if (Number.isInteger(value)) return [value, "count"];
  return String(value).length <= 5 ? [String(value), "text"] : [value];
}

function listText(list: ArrayBufferView | readonly unknown[]): string {
  const items = Array.from(list as ArrayLike<unknown>);
  const plain = items.every((item) => typeof item !== "object" || item === null);
  if (!plain || items.length > 8) {
    return `${items.length} ${items.length === 1 ? "entry" : "entries"}`;
  }
  const text = (item: unknown) =>
    typeof item === "number" ? String(Number(item.toPrecision(4))) : String(item);
  return items.map(text).join(", ");
}

/** "limits-of-agreement" as "limits of agreement"; a title in words stays as it is. */
function titleOf(kind: string): string {
  return kind.includes(" ") ? kind : words(kind.replaceAll("-", " "));
}

/** "positivePredictiveValue" as "positive predictive value"; symbols such as J45 stay. */
function words(key: string): string {
  return key
    .replace(/([a-z])([A-Z])(?=[a-z])/g, (_, before, letter) => `${before} ${letter.toLowerCase()}`)
    .replace(/([a-z]{2})(\d)/g, "$1 $2")
    .replace(/\b(youden|hotelling|passing bablok)\b/g, (names) =>
      names.replace(/\b[a-z]/g, (letter) => letter.toUpperCase()),
    );
}
