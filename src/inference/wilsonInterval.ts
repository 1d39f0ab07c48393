/**
 * Wilson's score limits for x of n (Wilson 1927), z the two-sided normal quantile.
 * The limit is exactly 0 at x = 0 and exactly 1 at x = n.
 */
export function wilsonLimits(x: number, n: number, z: number): [number, number] {
  const p = x / n;
  const centre = p + (z * z) / (2 * n);
  const spread = z * Math.sqrt((p * (1 - p)) / n + (z * z) / (4 * n * n));
  const scale = 1 + (z * z) / n;
  return [
    x === 0 ? 0 : Math.max(0, (centre - spread) / scale),
    x === n ? 1 : Math.min(1, (centre + spread) / scale),
  ];
}

/** Wilson's limits with continuity correction (Newcombe 1998, method 4). */
export function wilsonCorrectedLimits(x: number, n: number, z: number): [number, number] {
  const p = x / n;
  const scale = 2 * (n + z * z);
  const low =
    (2 * n * p + z * z - 1 - z * Math.sqrt(z * z - 2 - 1 / n + 4 * p * (n * (1 - p) + 1))) / scale;
  const high =
    (2 * n * p + z * z + 1 + z * Math.sqrt(z * z + 2 - 1 / n + 4 * p * (n * (1 - p) - 1))) / scale;
  // the square roots are not real near 0 and 1 at low levels, where the limit is the bound itself
  return [x === 0 || !(low > 0) ? 0 : low, x === n || !(high < 1) ? 1 : high];
}
