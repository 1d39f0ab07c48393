/**
 * A column that grows by parts and ends as one typed array. As long as every row holds the same
 * value, only that value and the number of rows are kept.
 */
interface Growable<Column> {
  /** Room for as many further rows, to be written before the next call. */
  readonly claim: (count: number) => Column;
  readonly append: (values: ArrayLike<number>) => void;
  readonly fill: (value: number, count: number) => void;
  readonly finish: () => Column;
}

export type GrowableCodes = Growable<Int32Array>;
export type GrowableBytes = Growable<Uint8Array>;

/** @param expected how many rows there probably are */
export function growableNumbers(expected = 0): Growable<Float64Array> {
  return growable((length) => new Float64Array(length), expected);
}

/** @param expected how many rows there probably are */
export function growableCodes(expected = 0): GrowableCodes {
  return growable((length) => new Int32Array(length), expected);
}

/** Codes into lists of less than 256 words. */
export function growableBytes(): GrowableBytes {
  return growable((length) => new Uint8Array(length));
}

/** A numeric column that stays null until some part has it. */
export function optionalNumbers(expected = 0) {
  const values = growableNumbers(expected);
  let present = false;
  return {
    claim(count: number): Float64Array {
      present = true;
      return values.claim(count);
    },
    append(more: Float64Array): void {
      present = true;
      values.append(more);
    },
    skip: (count: number): void => values.fill(Number.NaN, count),
    finish: (): Float64Array | null => (present ? values.finish() : null),
  };
}

/** Room for more rows than this is not made before they are seen. */
const mostExpected = 1 << 24;

function growable<Column extends Float64Array | Int32Array | Uint8Array>(
  make: (length: number) => Column,
  expected = 0,
): Growable<Column> {
  // few large blocks: less for the collector to follow
  const blocks: Column[] = [];
  let block = make(0);
  let used = 0;
  let length = 0;
  /** The value of every row so far; null once they differ. */
  let same: number | null = 0;

  const room = (count: number): Column => {
    if (used + count > block.length) {
      if (used > 0) blocks.push(block.subarray(0, used) as Column);
      const next =
        block.length === 0 ? Math.min(expected, mostExpected) : Math.min(2 * block.length, 1 << 17);
      block = make(Math.max(count, next, 1 << 10));
      used = 0;
    }
    used += count;
    return block.subarray(used - count, used) as Column;
  };
  const claim = (count: number): Column => {
    if (same !== null && length > 0) room(length).fill(same);
    same = null;
    length += count;
    return room(count);
  };
  return {
    claim,
    append: (values) => claim(values.length).set(values),
    fill(value, count) {
      if (length === 0) same = value;
      if (same === null || !Object.is(same, value)) claim(count).fill(value);
      else length += count;
    },
    finish() {
      // one block with little room left over is not copied
      if (same === null && blocks.length === 0 && used > 0.9 * block.length) {
        return block.subarray(0, used) as Column;
      }
      const whole = make(length);
      if (same !== null) return whole.fill(same) as Column;
      let at = 0;
      for (const part of [...blocks, block.subarray(0, used)]) {
        whole.set(part, at);
        at += part.length;
      }
      return whole;
    },
  };
}
