import { didYouMean, InputError } from "../../results/index.js";
import type { ColumnMapping, FindingBlock, ReadingBlock } from "../columnMapping.js";

/** One measurement of one eye, as a row of the file holds it: columns by position. */
export interface MeasurementPart<Block extends ReadingBlock | FindingBlock> {
  readonly block: Block;
  /** Code of the eye, or null where the eye column says it. */
  readonly eye: 0 | 1 | null;
  /** Position in the header of each mapped key. */
  readonly at: ReadonlyMap<string, number>;
  /** Its name in the header. */
  readonly names: ReadonlyMap<string, string>;
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

  function locate(columns: Readonly<Record<string, string | undefined>>) {
    const at = new Map<string, number>();
    const names = new Map<string, string>();
    for (const [key, name] of Object.entries({ ...mapping.columns, ...columns })) {
      if (name === undefined) continue;
      const position = header.indexOf(name);
      if (position < 0) {
        throw new InputError(
          `${caller} requires the column "${name}" (mapped to ${key}), got ${withoutColumn(name, header)}`,
        );
      }
      if (header.indexOf(name, position + 1) >= 0) {
        throw new InputError(
          `${caller} requires one column "${name}", got several of that name; rename all but one in the file`,
        );
      }
      at.set(key, position);
      names.set(key, name);
    }
    return { at, names };
  }
}

/** What a file has instead of a column. */
export function withoutColumn(name: string, header: readonly string[]): string {
  return header.length === 1
    ? "a single column: is the delimiter the one that the mapping declares?"
    : `${header.length} columns without it; ${didYouMean(name, header)}`;
}
