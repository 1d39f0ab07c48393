import type { Clusters } from "../../rows/index.js";

/**
 * How many pairs of one row of each class can be formed so that no two rows share a child.
 * Children may have rows of one class only, or of both.
 */
export function disjointPairs(codes: Uint8Array, clusters: Clusters | null): number {
  const classes = new Uint8Array(clusters?.count ?? codes.length);
  for (let row = 0; row < codes.length; row++) {
    classes[clusters === null ? row : clusters.ofRow[row]] |= codes[row] === 1 ? 2 : 1;
  }
  let control = 0;
  let both = 0;
  for (const seen of classes) {
    if (seen === 1) control++;
    else if (seen === 3) both++;
  }
  const only = classes.length - control - both;
  return Math.min(only + both, control + both, Math.floor((only + control + both) / 2));
}
