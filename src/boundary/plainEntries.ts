import type { Shape } from "./shapes.js";

/** Beyond it squares and their products would no longer be numbers. */
export const greatest = 1e50;
export const isModest = (value: number) => !(Math.abs(value) > greatest) || !Number.isFinite(value);

type PlainKind = "number" | "string" | "boolean";

/** What the entries of a column may be, where a look at each by itself is enough. */
export function plainKindsOf(of: Shape): ReadonlySet<string> | undefined {
  const kinds = typeof of === "object" && "any" in of ? of.any : [of];
  return kinds.every(isPlainKind) ? new Set(kinds) : undefined;
}

const isPlainKind = (shape: Shape): shape is PlainKind =>
  shape === "number" || shape === "string" || shape === "boolean";

/**
 * The first row whose entry needs more than a look. To search each entry by its shape would cost more than what
 * is done with a million of them; one loop a kind of list keeps each of the loops fast.
 */
export function plainUntil(
  column: ArrayLike<unknown>,
  kinds: ReadonlySet<string> | undefined,
): number {
  if (kinds === undefined) return 0;
  if (Array.isArray(column)) return listUntil(column, kinds);
  if (!kinds.has("number") || !ArrayBuffer.isView(column)) return 0;
  if (column instanceof Float64Array) return numbersUntil(column);
  // whole numbers of at most 32 bits are of their size
  return column instanceof Float32Array ? 0 : column.length;
}

function numbersUntil(column: Float64Array): number {
  for (let row = 0; row < column.length; row++) {
    const value = column[row]!;
    // NaN is neither; infinity is looked at by itself
    if (value > greatest || value < -greatest) return row;
  }
  return column.length;
}

function listUntil(list: readonly unknown[], kinds: ReadonlySet<string>): number {
  let row = 0;
  // a list of one kind takes one turn
  while (row < list.length) {
    const kind = typeof list[row];
    const next = kinds.has(kind) ? (endsOf[kind]?.(list, row) ?? row) : row;
    if (next === row) return row;
    row = next;
  }
  return row;
}

/** The first row from a row on whose entry is not of a kind, a loop each. */
const endsOf: { readonly [kind: string]: (list: readonly unknown[], from: number) => number } = {
  number(list, from) {
    let row = from;
    for (; row < list.length; row++) {
      const value = list[row];
      if (typeof value !== "number" || value > greatest || value < -greatest) break;
    }
    return row;
  },
  boolean(list, from) {
    let row = from;
    while (row < list.length && (list[row] === true || list[row] === false)) row++;
    return row;
  },
  string(list, from) {
    let row = from;
    while (row < list.length && typeof list[row] === "string") row++;
    return row;
  },
};
