import { didYouMean, InputError } from "../../results/index.js";
import type { AgeUnit, ColumnMapping, FindingBlock, ReadingBlock } from "../columnMapping.js";
import { ageColumnsOf } from "../mappingChecks.js";

/** One measurement of one eye, as a row of the file holds it: columns by position. */
export interface MeasurementPart<Block extends ReadingBlock | FindingBlock> {
  readonly block: Block;
  /** Code of the eye, or null where the eye column says it. */
  readonly eye: 0 | 1 | null;
  /** Position in the header of each mapped key. */
  readonly at: ReadonlyMap<string, number>;
  /** Its name in the header. */
  readonly names: ReadonlyMap<string, string>;
  /** The age columns in the order in which they count. */
  readonly ages: readonly { readonly at: number; readonly unit: AgeUnit }[];
}

/**
 * The parts that each row is taken apart into: a block's `columns`, or its right and left eye.
 *
 * @throws InputError when a mapped column is not in the header, or is there twice
 */
export function measurementParts<Block extends ReadingBlock | FindingBlock>(
  mapping: ColumnMapping,
  blocks: readonly Block[],
  header: readonly string[],
  caller: string,
): MeasurementPart<Block>[] {
  const parts: MeasurementPart<Block>[] = [];
  for (const block of blocks) {
    const { columns, right, left } = block;
    if (columns !== undefined) parts.push({ block, eye: null, ...locate(columns) });
    if (right !== undefined) parts.push({ block, eye: 0, ...locate(right) });
    if (left !== undefined) parts.push({ block, eye: 1, ...locate(left) });
  }
  return parts;

  function locate(part: Pick<ColumnMapping["columns"], "age">) {
    const { age, ...columns } = part;
    const at = new Map<string, number>();
    const names = new Map<string, string>();
    const { age: shared, ...others } = mapping.columns;
    for (const [key, name] of Object.entries({ ...others, ...columns })) {
      if (typeof name !== "string") continue;
      at.set(key, position(key, name, !(key in part)));
      names.set(key, name);
    }
    const ages = ageColumnsOf(mapping, age ?? shared).map(({ column, unit }) => ({
      at: position("age", column, age === undefined),
      // defineColumns has seen to it that each has one
      unit: unit ?? "years",
    }));
    return { at, names, ages };
  }

  function position(key: string, name: string, isShared: boolean): number {
    const found = header.indexOf(name);
    if (found < 0) {
      const cure = isShared
        ? '; what one file alone holds stands in the "columns" of its own block'
        : "";
      throw new InputError(
        `${caller} requires the column "${name}" (mapped to ${key}), got ${withoutColumn(name, header)}${cure}`,
      );
    }
    if (header.indexOf(name, found + 1) >= 0) {
      throw new InputError(
        `${caller} requires one column "${name}", got several of that name; rename all but one in the file`,
      );
    }
    return found;
  }
}

/** What a file has instead of a column. */
export function withoutColumn(name: string, header: readonly string[]): string {
  return header.length === 1
    ? "a single column: is the delimiter the one that the mapping declares?"
    : `${header.length} columns without it; ${didYouMean(name, header)}`;
}
