import { InputError } from "../../results/index.js";
import type { RuleColumns, RuleEyeColumns } from "./ruleColumns.js";

/** Every column of the length said, numbers as Float64Array. */
export function requireColumns(columns: RuleColumns): void {
  const { n, ageMonths, ageYears } = columns;
  requireColumn("ageMonths", ageMonths, n);
  requireColumn("ageYears", ageYears, n);
  for (const eye of ["right", "left"] as const) {
    for (const name of ["sphere", "cylinder", "axis"] as const) {
      if (columns[eye]?.[name] === undefined) {
        throw new InputError(`applyRule requires a column ${eye}.${name}, got none`);
      }
    }
    for (const name of Object.keys(columns[eye]) as (keyof RuleEyeColumns)[]) {
      requireColumn(`${eye}.${name}`, columns[eye][name], n);
    }
  }
}

function requireColumn(name: string, column: Float64Array | Uint8Array | undefined, n: number) {
  if (column === undefined) return;
  const wanted = name.endsWith(".status") ? Uint8Array : Float64Array;
  if (!(column instanceof wanted)) {
    throw new InputError(`applyRule requires ${name} as ${wanted.name}, got ${typeof column}`);
  }
  if (column.length !== n) {
    throw new InputError(`applyRule requires ${n} values of ${name}, got ${column.length}`);
  }
}
