import { InputError, namedIssues } from "../results/index.js";
import { type ColumnMapping, columnsJsonSchema, columnsSchema } from "./columnMapping.js";
import {
  requireAgeUnits,
  requireEyesApart,
  requireKnownColumns,
  requireOneMeaning,
} from "./mappingChecks.js";

/**
 * Checks a column mapping and returns it: one mapping serves both `readReadings` (its `readings`
 * blocks) and `readFindings` (its `findings` blocks). A block with `columns` is one measurement a
 * row, whose eye stands in the eye column; a block with `right` and `left` is both eyes in one row.
 *
 * @param json a mapping as it stands in columns.json
 * @throws InputError that names every unknown key and wrong value
 * @example
 * defineColumns({ kind: "columns", version: 1, columns: { subject: "id" } }).version // => 1
 */
export function defineColumns(json: unknown): ColumnMapping {
  const parsed = columnsSchema().safeParse(json);
  if (!parsed.success) {
    const issues = parsed.error.issues
      .flatMap((issue) => namedIssues(issue, columnsJsonSchema))
      .map(({ path, message }) => `${path.join(".") || "the mapping"}: ${message}`);
    throw new InputError(`defineColumns requires a valid column mapping, got ${issues.join("; ")}`);
  }
  const { columns, readings = [], findings = [] } = parsed.data;
  const blocks = [
    ...readings.map((block, index) => ({ block, path: `readings.${index}` })),
    ...findings.map((block, index) => ({ block, path: `findings.${index}` })),
  ];
  for (const { block, path } of blocks) {
    const perEye = block.right !== undefined || block.left !== undefined;
    if (perEye === (block.columns !== undefined)) {
      throw new InputError(
        `defineColumns requires either columns or right and left in ${path}, got ${perEye ? "both" : "neither"}; ` +
          "columns where a row is one eye, right and left where a row holds both",
      );
    }
    requireEyesApart(block, path);
    for (const part of [block.columns, block.right, block.left]) {
      if (part === undefined) continue;
      if (!perEye && part.eye === undefined && columns.eye === undefined) {
        throw new InputError(
          `defineColumns requires an eye column for ${path}, got none; add "eye" to its columns, or name right and left`,
        );
      }
      const distance = "removeWorkingDistanceMm" in block && block.removeWorkingDistanceMm;
      if (distance && !("method" in block) && !("method" in part)) {
        throw new InputError(
          `defineColumns requires a method beside removeWorkingDistanceMm in ${path}, got none; ` +
            'it is taken off retinoscopy only: add "method", or leave the distance out',
        );
      }
      if (part.prescription !== undefined && part.sphere !== undefined) {
        throw new InputError(
          `defineColumns requires a prescription or a sphere in ${path}, got both; ` +
            "leave out the one that the study should not read",
        );
      }
    }
  }
  requireAgeUnits(parsed.data);
  requireOneMeaning(parsed.data);
  requireKnownColumns(parsed.data);
  return parsed.data;
}
