/** Cumulative sums along each axis of a row-major array, in place. */
export function accumulate(counts: Int32Array | Float64Array, sizes: readonly number[]): void {
  let stride = counts.length;
  for (const size of sizes) {
    const block = stride;
    stride /= size;
    if (stride === 1) {
      for (let start = 0; start < counts.length; start += block) {
        let sum = 0;
        for (let at = start; at < start + block; at++) {
          sum += counts[at];
          counts[at] = sum;
        }
      }
    } else {
      for (let start = 0; start < counts.length; start += block) {
        for (let at = start + stride; at < start + block; at++) counts[at] += counts[at - stride];
      }
    }
  }
}
