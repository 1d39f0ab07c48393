/** The simple asymptotic limits, cut at 0 and 1; of width zero at x = 0 and x = n. */
export function waldLimits(x: number, n: number, z: number): [number, number] {
  return around(x / n, n, z);
}

/** Agresti and Coull 1998: Wald's limits after adding z²/2 successes and failures, cut at 0 and 1. */
export function agrestiCoullLimits(x: number, n: number, z: number): [number, number] {
  return around((x + (z * z) / 2) / (n + z * z), n + z * z, z);
}

function around(p: number, n: number, z: number): [number, number] {
  const spread = z * Math.sqrt((p * (1 - p)) / n);
  return [Math.max(0, p - spread), Math.min(1, p + spread)];
}
