import type { Leaf } from "../compileRule.js";

/**
 * Children of a block with a value exactly at one of a limit's ends, after rounding to 0.001.
 *
 * @param inBand by place of the age, 1 where the band there holds the limit
 */
export function countAtLimit(
  leaf: Leaf,
  right: Int32Array,
  left: Int32Array,
  place: Uint8Array | null,
  inBand: Uint8Array,
): number {
  const one = leaf.eye === "left" ? left : right;
  const other = leaf.eye === "right" || leaf.eye === "pair" ? right : left;
  let children = 0;
  for (const end of leaf.ends) {
    const whole = end | 0;
    for (let at = 0; at < right.length; at++) {
      const past = (one[at] - whole) | 0;
      const otherPast = (other[at] - whole) | 0;
      // 1 where both differ from the end, else 0
      const differ = ((past | (0 - past)) & (otherPast | (0 - otherPast))) >>> 31;
      children += 1 - differ;
      // a child of another band is not counted
      if (place !== null && differ === 0 && inBand[place[at]] === 0) children--;
    }
  }
  return children;
}
