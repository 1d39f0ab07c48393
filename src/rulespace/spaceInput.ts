import { requireNumbers } from "../rows/index.js";

/** Values of each criterion, one array a criterion; high is worse. */
export type Measures = { readonly [criterion: string]: ArrayLike<number> };

/** Limits of each criterion, ascending; `Infinity` (or null, as saved) switches the criterion off. */
export type Limits = { readonly [criterion: string]: ArrayLike<number | null> };

/** Numbers in every criterion; NaN is missing, an infinite one beyond every limit. */
export function requireMeasures(
  caller: string,
  { measures, atLeast = {} }: { readonly measures: Measures; readonly atLeast?: Measures },
  rows: number,
): void {
  for (const [name, columns] of Object.entries({ measures, atLeast })) {
    for (const [criterion, values] of Object.entries(columns)) {
      requireNumbers(caller, `${name} of ${criterion}`, values, rows, { missing: "NaN" });
    }
  }
}
