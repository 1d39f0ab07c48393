import type { DetectedColumn } from "../detect/detected.js";
import { dropsIn } from "../detect/dropWords.js";

/** What a block of readings says beside its columns. */
export function readingWords(
  columns: readonly DetectedColumn[],
  block: string,
  of: number,
): object {
  const instrument = columns.some(({ is }) => is === "instrument");
  const label = block
    .replace(/\b(pre|post|dry|wet|cyclo\w*|noncyclo|undilated|dilated|screening|reading)\b/g, " ")
    .trim();
  return {
    ...(instrument ? {} : { instrument: of > 1 && label !== "" ? label : "screening" }),
    ...(columns.some(({ is }) => is === "cycloplegia")
      ? {}
      : { cycloplegia: dropsOf(block) ?? "none" }),
    ...(columns.some(({ is }) => is === "correction") ? {} : { correction: "unknown" }),
    note: "Look at the instrument's label, the drops, the correction worn, and what an empty cell means.",
  };
}

/** What a block of findings says beside its columns. */
export function findingWords(columns: readonly DetectedColumn[], block: string): object {
  return {
    ...(columns.some(({ is }) => is === "cycloplegia")
      ? {}
      : { cycloplegia: dropsOf(block) ?? "unknown" }),
    ...(columns.some(({ is }) => is === "verification-reason")
      ? {}
      : { verificationReason: "unknown" }),
    note: "Look at the drops, and why each child was examined.",
  };
}

/** Drops by the words of a measurement's name. */
function dropsOf(block: string): "none" | "full" | null {
  const said = dropsIn(block);
  if (said !== null) return said;
  if (/\bpre\b/.test(block)) return "none";
  return /\bpost\b/.test(block) ? "full" : null;
}
