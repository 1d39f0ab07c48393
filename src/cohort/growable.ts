/** Columns that grow while a file is read, and end as typed arrays. */
export interface GrowableNumbers {
  readonly append: (values: ArrayLike<number>) => void;
  readonly fill: (value: number, count: number) => void;
  readonly finish: () => Float64Array;
}

export interface GrowableCodes {
  readonly append: (values: ArrayLike<number>) => void;
  readonly fill: (value: number, count: number) => void;
  readonly finish: () => Int32Array;
}

export function growableNumbers(): GrowableNumbers {
  return growable((length) => new Float64Array(length));
}

export function growableCodes(): GrowableCodes {
  return growable((length) => new Int32Array(length));
}

function growable<T extends Float64Array | Int32Array>(make: (length: number) => T) {
  let store = make(1024);
  let length = 0;
  const reserve = (count: number) => {
    if (length + count <= store.length) return;
    const larger = make(Math.max(2 * store.length, length + count));
    larger.set(store.subarray(0, length));
    store = larger;
  };
  return {
    append(values: ArrayLike<number>) {
      reserve(values.length);
      store.set(values, length);
      length += values.length;
    },
    fill(value: number, count: number) {
      reserve(count);
      store.fill(value, length, length + count);
      length += count;
    },
    finish: () => store.slice(0, length) as T,
  };
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
