import { accumulate } from "./accumulate.js";

/**
 * Whole counts of both classes at every rule, from the cells of their members: cumulative sums along
 * each axis. Where both classes' counts fit side by side into 31 bits the sums are taken once for
 * both, which halves the time.
 *
 * @param passedWith filled with the counts of one class; both arrays have one place a rule
 * @param each calls back with each occupied cell and the numbers of both classes in it
 */
export function countGrid(
  passedWith: Int32Array,
  passedWithout: Int32Array,
  sizes: readonly number[],
  totals: { readonly totalWith: number; readonly totalWithout: number },
  each: (add: (cell: number, ill: number, well: number) => void) => void,
): void {
  passedWith.fill(0);
  const bits = 32 - Math.clz32(totals.totalWithout);
  if (totals.totalWith < 2 ** (31 - bits)) {
    each((cell, ill, well) => {
      passedWith[cell] += ill * 2 ** bits + well;
    });
    accumulate(passedWith, sizes);
    unpack(passedWith, passedWithout, bits);
    return;
  }
  passedWithout.fill(0);
  each((cell, ill, well) => {
    passedWith[cell] += ill;
    passedWithout[cell] += well;
  });
  accumulate(passedWith, sizes);
  accumulate(passedWithout, sizes);
}

function unpack(packed: Int32Array, low: Int32Array, bits: number): void {
  const mask = 2 ** bits - 1;
  for (let at = 0; at < packed.length; at++) {
    const both = packed[at];
    packed[at] = both >> bits;
    low[at] = both & mask;
  }
}
