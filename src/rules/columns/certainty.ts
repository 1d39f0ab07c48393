import type { Leaf } from "../compileRule.js";

/**
 * Three values as two bits, "surely" and "possibly": no 0, unknown 2, yes 3. Any-of is then the
 * bitwise or, all-of the bitwise and.
 */
export const no = 0;
export const unknown = 2;
export const yes = 3;

/** Whether a limit is crossed, by the values in thousandths of both eyes (or the pair's as right); NaN is missing. */
export function certaintyOf(leaf: Leaf, right: number, left: number): number {
  const code = crossed(leaf, right, left);
  return leaf.negated ? (code === unknown ? unknown : yes - code) : code;
}

function crossed(leaf: Leaf, right: number, left: number): number {
  switch (leaf.eye) {
    case "right":
    case "pair":
      return single(leaf, right);
    case "left":
      return single(leaf, left);
    case "either":
      return single(leaf, right) | single(leaf, left);
    case "both":
      return single(leaf, right) & single(leaf, left);
    default:
      if (Number.isNaN(right)) return Number.isNaN(left) ? unknown : ofOne(leaf, left);
      return Number.isNaN(left) ? ofOne(leaf, right) : ofBoth(leaf, right, left);
  }
}

function single({ low, high }: Leaf, value: number): number {
  return value >= low && value < high ? yes : Number.isNaN(value) ? unknown : no;
}

function ofBoth(leaf: Leaf, right: number, left: number): number {
  if (leaf.eye === "highest") return single(leaf, Math.max(right, left));
  if (leaf.eye === "lowest") return single(leaf, Math.min(right, left));
  const chosen = bySize(leaf, right, left);
  if (chosen !== null) return single(leaf, chosen);
  const code = single(leaf, right);
  return code === single(leaf, left) ? code : unknown;
}

/** The value nearer to zero, or further from it; null where both are equally far. */
export function bySize({ eye }: Leaf, right: number, left: number): number | null {
  const [sizeRight, sizeLeft] = [Math.abs(right), Math.abs(left)];
  if (sizeRight === sizeLeft) return null;
  return sizeRight < sizeLeft === (eye === "lesser-error") ? right : left;
}

/** With one eye missing, the other bounds what the chosen eye's value can be. */
function ofOne({ eye, low, high, unsigned }: Leaf, known: number): number {
  if (eye === "highest") {
    if (known >= low && high === Number.POSITIVE_INFINITY) return yes;
    return known >= high ? no : unknown;
  }
  if (eye === "lowest") {
    if (known < high && low === Number.NEGATIVE_INFINITY) return yes;
    return known < low ? no : unknown;
  }
  const size = Math.abs(known);
  if (eye === "lesser-error") {
    const least = unsigned ? 0 : -size;
    if (least >= low && size < high) return yes;
    return size < low || least >= high ? no : unknown;
  }
  if (unsigned && size >= low && high === Number.POSITIVE_INFINITY) return yes;
  return high <= size && (unsigned || low > -size) ? no : unknown;
}
