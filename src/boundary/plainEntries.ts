import type { Shape } from "./shapes.js";

/** Beyond it squares and their products would no longer be numbers. */
export const greatest = 1e50;
export const isModest = (value: number) => !(Math.abs(value) > greatest) || !Number.isFinite(value);

/**
 * Columns of yes and no, and of labels: the one reader of each (`rows/`) looks at every entry anyway, and refuses what
 * is none with its row.
 */
export const isReadByRooms = (of: Shape): boolean =>
  typeof of === "object" &&
  "any" in of &&
  ["number", "boolean"].every((kind) => of.any.includes(kind));

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

// Eight entries a turn: one comparison each is what a look at a million of them costs.
function numbersUntil(column: Float64Array): number {
  const whole = column.length - (column.length % 8);
  let row = 0;
  for (; row < whole; row += 8) {
    if (
      Math.abs(column[row]!) > greatest ||
      Math.abs(column[row + 1]!) > greatest ||
      Math.abs(column[row + 2]!) > greatest ||
      Math.abs(column[row + 3]!) > greatest ||
      Math.abs(column[row + 4]!) > greatest ||
      Math.abs(column[row + 5]!) > greatest ||
      Math.abs(column[row + 6]!) > greatest ||
      Math.abs(column[row + 7]!) > greatest
    ) {
      break;
    }
  }
  // NaN is not greater; infinity is looked at by itself
  while (row < column.length && !(Math.abs(column[row]!) > greatest)) row++;
  return row;
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

/** A number that is not greater than the greatest; NaN is none. */
const isSmall = (value: unknown): boolean =>
  typeof value === "number" && !(Math.abs(value) > greatest);

/** The first row from a row on whose entry is not of a kind, a loop each. */
const endsOf: { readonly [kind: string]: (list: readonly unknown[], from: number) => number } = {
  number(list, from) {
    const { length } = list;
    let row = from;
    for (; row + 3 < length; row += 4) {
      if (
        !isSmall(list[row]) ||
        !isSmall(list[row + 1]) ||
        !isSmall(list[row + 2]) ||
        !isSmall(list[row + 3])
      ) {
        break;
      }
    }
    while (row < length && isSmall(list[row])) row++;
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
