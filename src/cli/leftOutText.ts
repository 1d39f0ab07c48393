import type { LeftOut } from "../prepare/index.js";

/** A column that the mapping does not read, why, and what stands in it. */
export function leftOutText({ file, column, why, examples }: LeftOut): string {
  return `${file}, ${column}: ${why}${suchAs(examples)}`;
}

export function suchAs(examples: readonly string[]): string {
  return examples.length === 0 ? "" : `, such as ${examples.map((cell) => `"${cell}"`).join(", ")}`;
}
