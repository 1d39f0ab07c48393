import type { AgeUnit, ColumnMapping } from "../../cohort/index.js";
import { writtenAge } from "../detect/cellForms.js";
import type { DetectedColumn, DetectedFile } from "../detect/detected.js";

/** The finest comes first: where a child has both, it counts. */
const order: readonly AgeUnit[] = ["months", "years-and-months", "decimal-years", "years"];

/** The age columns that a mapping can read, each with its unit. */
export function agesOf(files: readonly DetectedFile[]): ReadonlyMap<DetectedColumn, AgeUnit> {
  return new Map(
    files.flatMap(({ columns }) =>
      columns.flatMap((column) => {
        const { is, unit, facts } = column;
        if (is !== "age" || unit === null) return [];
        // prepare takes them apart
        if (unit === "years-or-months" || unit === "unit-column") return [];
        const cells = [...facts.cells.keys()];
        const form = unit === "years-and-months" ? /^(\d{1,3} ?[;:] ?\d{1,2}|\d*)$/ : null;
        const plain = cells.every((text) => form?.test(text) ?? writtenAge(text) === null);
        return plain ? [[column, unit] as const] : [];
      }),
    ),
  );
}

/** The unit that all of them have, or null. */
export function sharedUnit(ages: ReadonlyMap<DetectedColumn, AgeUnit>): AgeUnit | null {
  const units = new Set(ages.values());
  return units.size === 1 ? [...units][0] : null;
}

/** The ages of one file as a mapping names them: one column a unit, the finest first. */
export function agesOfFile(
  { columns }: DetectedFile,
  ages: ReadonlyMap<DetectedColumn, AgeUnit>,
): { used: readonly DetectedColumn[]; age: ColumnMapping["columns"]["age"] } {
  const used = order.flatMap(
    (unit) => columns.find((column) => column.eye === null && ages.get(column) === unit) ?? [],
  );
  if (used.length === 0) return { used, age: undefined };
  if (sharedUnit(ages) !== null) return { used, age: used[0].column };
  return { used, age: used.map((column) => ({ column: column.column, unit: ages.get(column)! })) };
}
