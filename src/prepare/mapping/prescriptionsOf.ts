import { eyesOfCell } from "../../refraction/index.js";
import type { DetectedColumn } from "../detect/detected.js";

/** The prescriptions of a column: of both eyes of each cell where it holds two. */
export function prescriptionsOf({
  eyes,
  facts,
}: Pick<DetectedColumn, "eyes" | "facts">): readonly (readonly [string, number])[] {
  if (eyes === null) return [...facts.cells];
  return [...facts.cells].flatMap(([text, times]) => {
    const found = eyesOfCell(text, eyes);
    const parts = found.fault === undefined ? [found.right, found.left] : [text];
    return parts.filter((part) => part !== "").map((part) => [part, times] as const);
  });
}
