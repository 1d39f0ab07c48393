const buckets = 4096;

/**
 * Flat indices of the rules on the front, by falling `spared`. Two passes without sorting all: the
 * fewest misses per bucket of `spared` first, then only the few rules that beat every higher bucket.
 */
export function frontOf(misses: ArrayLike<number>, spared: ArrayLike<number>): number[] {
  const n = misses.length;
  let most = 0;
  for (let rule = 0; rule < n; rule++) if (spared[rule] > most) most = spared[rule];
  const scale = most > 0 ? buckets / most : 0;
  const fewest = new Float64Array(buckets + 2).fill(Number.POSITIVE_INFINITY);
  for (let rule = 0; rule < n; rule++) {
    const bucket = spared[rule] > 0 ? Math.floor(spared[rule] * scale) : 0;
    if (misses[rule] < fewest[bucket]) fewest[bucket] = misses[rule];
  }
  // fewest[b] becomes the fewest misses in any bucket above b
  let best = Number.POSITIVE_INFINITY;
  for (let bucket = buckets + 1; bucket >= 0; bucket--) {
    const own = fewest[bucket];
    fewest[bucket] = best;
    if (own < best) best = own;
  }
  const candidates: number[] = [];
  for (let rule = 0; rule < n; rule++) {
    const bucket = spared[rule] > 0 ? Math.floor(spared[rule] * scale) : 0;
    if (misses[rule] >= fewest[bucket]) continue;
    candidates.push(rule);
    if (candidates.length > 2_000_000) prune(candidates, misses, spared);
  }
  prune(candidates, misses, spared);
  return candidates;
}

/** Keeps only the front of the candidates, sorted, in place. */
function prune(candidates: number[], misses: ArrayLike<number>, spared: ArrayLike<number>): void {
  candidates.sort((a, b) => spared[b] - spared[a] || misses[a] - misses[b] || a - b);
  let best = Number.POSITIVE_INFINITY;
  let kept = 0;
  for (const rule of candidates) {
    if (misses[rule] < best) {
      best = misses[rule];
      candidates[kept++] = rule;
    }
  }
  candidates.length = kept;
}
