/** Below this the built-in sort is as fast. */
const least = 2000;

/** Where the upper half of a number lies in memory. */
const upper = new Uint8Array(Uint32Array.of(1).buffer)[0] === 1 ? 1 : 0;

/**
 * Numbers in ascending order, by radix: three passes of 11 bits over the upper 32 bits of each
 * (sign, exponent and 20 bits of the fraction), then insertion among those that are alike in them. A
 * fifth of the time of the built-in sort at 100,000 numbers that all differ. Where too many are
 * alike in the upper half the built-in sort takes over.
 *
 * @param values finite; they are overwritten, and may or may not be what is returned
 */
export function sortNumbers(values: Float64Array): Float64Array {
  const n = values.length;
  if (n < least) return values.sort();
  const counts = [new Int32Array(2048), new Int32Array(2048), new Int32Array(1024)] as const;
  const words = new Int32Array(values.buffer, values.byteOffset, 2 * n);
  for (let at = upper; at < 2 * n; at += 2) {
    const key = keyOf(words[at]);
    counts[0][key & 2047]++;
    counts[1][(key >>> 11) & 2047]++;
    counts[2][key >>> 22]++;
  }
  const other = new Float64Array(n);
  scatter(values, other, starts(counts[0]), 0);
  scatter(other, values, starts(counts[1]), 11);
  scatter(values, other, starts(counts[2]), 22);
  return insert(other) ? other : other.sort();
}

/** Order of the upper half as that of an unsigned whole number. */
function keyOf(word: number): number {
  return word ^ ((word >> 31) | 0x80000000);
}

function starts(counts: Int32Array): Int32Array {
  let sum = 0;
  for (let digit = 0; digit < counts.length; digit++) {
    const count = counts[digit];
    counts[digit] = sum;
    sum += count;
  }
  return counts;
}

function scatter(from: Float64Array, to: Float64Array, next: Int32Array, shift: number): void {
  const words = new Int32Array(from.buffer, from.byteOffset, 2 * from.length);
  const mask = next.length - 1;
  for (let at = 0; at < from.length; at++) {
    to[next[(keyOf(words[2 * at + upper]) >>> shift) & mask]++] = from[at];
  }
}

/** Insertion sort of what is nearly in order; false where it would take too long. */
function insert(values: Float64Array): boolean {
  let left = 4 * values.length;
  for (let at = 1; at < values.length; at++) {
    const value = values[at];
    let place = at;
    while (place > 0 && values[place - 1] > value) {
      values[place] = values[place - 1];
      place--;
    }
    values[place] = value;
    left -= at - place;
    if (left < 0) return false;
  }
  return true;
}
