type Counts = Int32Array | Float64Array;

/**
 * Cumulative sums along each axis of a row-major array, in place.
 *
 * Works from the innermost axes outwards, block by block, so that a block is still at hand when the
 * one before it is added; the two innermost axes are taken in one pass.
 */
export function accumulate(counts: Counts, sizes: readonly number[]): void {
  const strides = sizes.map((_, axis) =>
    sizes.slice(axis + 1).reduce((product, size) => product * size, 1),
  );
  const walk = (axis: number, start: number): void => {
    if (axis >= sizes.length - 2) {
      accumulatePlane(counts, start, sizes[sizes.length - 2] ?? 1, sizes[sizes.length - 1]);
      return;
    }
    const stride = strides[axis];
    for (let at = 0; at < sizes[axis]; at++) {
      const from = start + at * stride;
      walk(axis + 1, from);
      if (at > 0) addBlock(counts, from, stride);
    }
  };
  walk(0, 0);
}

function accumulatePlane(counts: Counts, start: number, rows: number, columns: number): void {
  let sum = 0;
  for (let at = start; at < start + columns; at++) {
    sum += counts[at];
    counts[at] = sum;
  }
  for (let row = 1; row < rows; row++) {
    const from = start + row * columns;
    sum = 0;
    for (let at = from; at < from + columns; at++) {
      sum += counts[at];
      counts[at] = sum + counts[at - columns];
    }
  }
}

/** Adds the block before to a block. */
function addBlock(counts: Counts, from: number, length: number): void {
  for (let at = from; at < from + length; at++) counts[at] += counts[at - length];
}
