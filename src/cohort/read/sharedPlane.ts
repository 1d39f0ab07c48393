import type { ProblemLog } from "../problemLog.js";

/** The vertex plane that all blocks share; null, and listed, where they differ. */
export function sharedPlane(
  blocks: readonly { readonly vertexMm?: number | null }[],
  log: ProblemLog,
): number | null {
  const planes = new Set(blocks.map(({ vertexMm }) => vertexMm ?? null));
  if (planes.size === 1) return blocks[0].vertexMm ?? null;
  log.add(null, null, [...planes].join(", "), "vertex-differs", "kept");
  return null;
}
