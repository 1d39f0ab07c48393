/**
 * Order statistics of the slopes between all pairs of points, without making the pairs: slopes not
 * above a bound are counted as inversions in n log n, and the bound is closed in on by bisection
 * over the angle. Memory is linear in the number of points.
 *
 * Pairs with the same p have no slope and are left out.
 */
export function pairwiseSlopes(p: Float64Array, q: Float64Array): PairwiseSlopes {
  const n = p.length;
  const order = Int32Array.from({ length: n }, (_, index) => index);
  order.sort((a, b) => p[a] - p[b]);
  const along = Float64Array.from(order, (index) => p[index]);
  const across = Float64Array.from(order, (index) => q[index]);
  const groupEnds = endsOfTies(along);
  let count = (n * (n - 1)) / 2;
  for (let start = 0; start < n; start = groupEnds[start]) {
    const size = groupEnds[start] - start;
    count -= (size * (size - 1)) / 2;
  }

  const heights = new Float64Array(n);
  const buffer = new Float64Array(n);
  /** Pairs with slope <= bound: the later point is not higher once the bound is taken off. */
  const countUpTo = (bound: number) => {
    for (let i = 0; i < n; i++) heights[i] = across[i] - bound * along[i];
    return pairsNotRising(heights, buffer, groupEnds);
  };
  const positions = Int32Array.from({ length: n }, (_, index) => index);
  /** The slope of some pair whose slope lies in (low, high], or null. */
  const slopeBetween = (low: number, high: number) => {
    const before = (i: number) => across[i] - low * along[i];
    const after = (i: number) => across[i] - high * along[i];
    // Neighbours in the order at the low bound that have changed places at the high bound.
    const sorted = positions.sort((a, b) => before(a) - before(b) || a - b);
    let best: { i: number; j: number; slope: number } | null = null;
    const middle = low / 2 + high / 2;
    for (let k = 1; k < n; k++) {
      const [i, j] = [sorted[k - 1], sorted[k]];
      if (along[i] >= along[j] || after(j) > after(i)) continue;
      const slope = (across[j] - across[i]) / (along[j] - along[i]);
      if (best === null || Math.abs(slope - middle) < Math.abs(best.slope - middle)) {
        best = { i: order[i], j: order[j], slope };
      }
    }
    return best;
  };
  return {
    count,
    /** The slope of the given rank, counted from 1, with the pair of points it belongs to. */
    ofRank(rank) {
      let low = -Math.PI / 2;
      let high = Math.PI / 2;
      for (let step = 0; step < 60; step++) {
        const middle = low / 2 + high / 2;
        if (high - low < 4e-15 || middle === low || middle === high) break;
        if (countUpTo(Math.tan(middle)) >= rank) high = middle;
        else low = middle;
      }
      // Rounding may leave the pair just outside: look a little further until one is met.
      for (let widen = 1e-14; widen < 1e-4; widen *= 10) {
        const found = slopeBetween(Math.tan(low - widen), Math.tan(high + widen));
        if (found !== null) return found;
      }
      throw new RangeError(`no pair of points has the slope of rank ${rank}`);
    },
  };
}

interface PairwiseSlopes {
  /** Pairs that have a slope. */
  readonly count: number;
  ofRank(rank: number): { readonly i: number; readonly j: number; readonly slope: number };
}

/** For the first point of each run of equal values, where the run ends. */
function endsOfTies(sorted: Float64Array): Int32Array {
  const ends = new Int32Array(sorted.length);
  for (let start = 0; start < sorted.length; ) {
    let end = start + 1;
    while (end < sorted.length && sorted[end] === sorted[start]) end++;
    ends[start] = end;
    start = end;
  }
  return ends;
}

/** Pairs i before j (not of one tie) with value j <= value i, by merging; sorts the values. */
function pairsNotRising(values: Float64Array, buffer: Float64Array, ends: Int32Array): number {
  const n = values.length;
  let pairs = 0;
  // Points of one tie make no pair: what merging counts among them is taken off again.
  for (let start = 0; start < n; start = ends[start]) {
    const size = ends[start] - start;
    if (size > 1) {
      values.subarray(start, ends[start]).sort();
      pairs -= pairsOfEqual(values, start, ends[start]);
    }
  }
  let from = values;
  let to = buffer;
  for (let width = 1; width < n; width *= 2) {
    for (let start = 0; start < n; start += 2 * width) {
      const middle = Math.min(start + width, n);
      const end = Math.min(start + 2 * width, n);
      let [left, right] = [start, middle];
      for (let k = start; k < end; k++) {
        // On equal values the right one goes first, and counts against all that are left.
        if (left < middle && (right >= end || from[left] < from[right])) {
          to[k] = from[left++];
        } else {
          to[k] = from[right++];
          pairs += middle - left;
        }
      }
    }
    [from, to] = [to, from];
  }
  return pairs;
}

/** Pairs of equal values within a sorted stretch. */
function pairsOfEqual(values: Float64Array, start: number, end: number): number {
  let pairs = 0;
  let run = 1;
  for (let k = start + 1; k <= end; k++) {
    if (k < end && values[k] === values[k - 1]) {
      run++;
    } else {
      pairs += (run * (run - 1)) / 2;
      run = 1;
    }
  }
  return pairs;
}
