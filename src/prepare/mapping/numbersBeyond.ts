import { plainNumber } from "../detect/columnFacts.js";
import type { DetectedFile } from "../detect/detected.js";
import { measuredRoles } from "../detect/measurementKind.js";
import { rangeOf } from "../detect/ranges.js";

/**
 * Numbers that are no power, such as 99.99 or 999, which stand for something in files: what, only a person
 * knows, and until it is declared each is set aside as a fault.
 */
export function numbersBeyond(files: readonly DetectedFile[]): string[] {
  return files.flatMap(({ file, columns }) => {
    const counts = new Map<string, { cells: number; columns: string[] }>();
    for (const { is, column, facts } of columns) {
      const range = rangeOf(is);
      if (!measuredRoles.has(is) || range === undefined) continue;
      for (const [text, times] of facts.cells) {
        const value = plainNumber(text);
        if (Number.isNaN(value) || (value >= range[0] && value <= range[1]) || times < 2) continue;
        const count = counts.get(text) ?? { cells: 0, columns: [] };
        counts.set(text, { cells: count.cells + times, columns: [...count.columns, column] });
      }
    }
    return [...counts].map(
      ([text, count]) =>
        `${file}: "${text}" is no power (${count.cells} cells of ${count.columns.join(", ")}) and will be set aside; ` +
        `if it stands for no reading, the mapping says so: "marks": { "${text}": "unreadable" }, or over-range, ` +
        "under-range, not-attempted",
    );
  });
}
