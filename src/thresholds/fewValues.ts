import { withoutNoise } from "../rows/index.js";

/** Rows whose values are few: readings come in steps. */
export interface FewValues {
  /** Distinct values, `withoutNoise`, in the order in which they first appear. */
  readonly distinct: Float64Array;
  /** Place of each row's value among them. */
  readonly placeOfRow: Uint16Array;
}

const most = 2048;
const bits = 13;
const mask = (1 << bits) - 1;

/** Numbers the distinct values, by open addressing; null where there are more than 2,048. */
export function fewValues(values: ArrayLike<number>): FewValues | null {
  const n = values.length;
  const seen = new Float64Array(most);
  const placeOfRow = new Uint16Array(n);
  // a place and 1; 0 is free
  const table = new Uint16Array(mask + 1);
  const double = new Float64Array(1);
  const words = new Int32Array(double.buffer);
  let used = 0;
  for (let row = 0; row < n; row++) {
    const value = values[row] + 0;
    double[0] = value;
    let at = Math.imul(words[1] ^ Math.imul(words[0], 0x85ebca6b), 0x9e3779b1) >>> (32 - bits);
    let place = table[at];
    while (place !== 0 && seen[place - 1] !== value) {
      at = (at + 1) & mask;
      place = table[at];
    }
    if (place === 0) {
      if (used === most) return null;
      seen[used++] = value;
      table[at] = used;
      place = used;
    }
    placeOfRow[row] = place - 1;
  }
  const distinct = seen.subarray(0, used).map(withoutNoise);
  const places = new Map<number, number>();
  for (const value of distinct) if (!places.has(value)) places.set(value, places.size);
  if (places.size < used) {
    const placeOfSeen = Uint16Array.from(distinct, (value) => places.get(value)!);
    for (let row = 0; row < n; row++) placeOfRow[row] = placeOfSeen[placeOfRow[row]];
  }
  return { distinct: Float64Array.from(places.keys()), placeOfRow };
}
