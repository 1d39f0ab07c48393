/** A column that grows by whole arrays, which it keeps, and ends as one typed array. */
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
  let parts: Column[] = [];
  let length = 0;
  const append = (values: Column) => {
    parts.push(values);
    length += values.length;
  };
  return {
    append,
    fill: (value, count) => append(make(count).fill(value) as Column),
    finish() {
      const whole = make(length);
      let at = 0;
      for (const part of parts) {
        whole.set(part, at);
        at += part.length;
      }
      parts = [whole];
      return whole;
    },
  };
}
