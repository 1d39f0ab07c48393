import type { DetectedColumn, DetectedFile } from "../detect/detected.js";

type MappedAge = "years" | "decimal-years" | "months";

/** One unit of age for all files: that of the readings, or of whichever file has ages. */
export function agesOf(files: readonly DetectedFile[]): {
  unit: MappedAge | null;
  columns: ReadonlySet<DetectedColumn>;
} {
  const all = files.flatMap(({ columns, holds }) =>
    columns
      .filter(({ is, unit }) => is === "age" && unit !== null && unit !== "years-and-months")
      .map((column) => ({ column, reading: holds?.includes("readings") ?? false })),
  );
  const best =
    all.find(({ column, reading }) => reading && column.unit === "months") ??
    all.find(({ reading }) => reading) ??
    all[0];
  if (best === undefined) return { unit: null, columns: new Set() };
  const { unit } = best.column;
  return {
    unit: unit as MappedAge,
    columns: new Set(all.filter(({ column }) => column.unit === unit).map(({ column }) => column)),
  };
}
