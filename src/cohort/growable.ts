/** A column that grows by whole arrays, which it copies, and ends as one typed array. */
interface Growable<Column> {
  readonly append: (values: Column) => void;
  readonly fill: (value: number, count: number) => void;
  readonly finish: () => Column;
}

export type GrowableNumbers = Growable<Float64Array>;

export interface GrowableCodes extends Growable<Int32Array> {
  /** The same as bytes, for lists of less than 256 words. */
  readonly finishBytes: () => Uint8Array;
}

export function growableNumbers(): GrowableNumbers {
  return growable<Float64Array>((length) => new Float64Array(length));
}

export function growableCodes(): GrowableCodes {
  const codes = growable<Int32Array>((length) => new Int32Array(length));
  return { ...codes, finishBytes: () => new Uint8Array(codes.finish()) };
}

/** A numeric column that stays null until some part has it. */
export function optionalNumbers() {
  const values = growableNumbers();
  let present = false;
  return {
    append(more: Float64Array): void {
      present = true;
      values.append(more);
    },
    skip(count: number): void {
      values.fill(Number.NaN, count);
    },
    finish: (): Float64Array | null => (present ? values.finish() : null),
  };
}

function growable<Column extends Float64Array | Int32Array>(
  make: (length: number) => Column,
): Growable<Column> {
  // few large blocks, which many small arrays are copied into: less for the collector to follow
  const blocks: Column[] = [];
  let block = make(1 << 10);
  let used = 0;
  let length = 0;
  const room = (count: number) => {
    if (used + count > block.length) {
      blocks.push(block.subarray(0, used) as Column);
      block = make(Math.max(count, Math.min(2 * block.length, 1 << 17)));
      used = 0;
    }
    used += count;
    length += count;
    return used - count;
  };
  return {
    append(values) {
      const at = room(values.length);
      block.set(values, at);
    },
    fill(value, count) {
      const at = room(count);
      block.fill(value, at, at + count);
    },
    finish() {
      const whole = make(length);
      let at = 0;
      for (const part of [...blocks, block.subarray(0, used)]) {
        whole.set(part, at);
        at += part.length;
      }
      blocks.length = 0;
      block = whole;
      used = length;
      return whole;
    },
  };
}
