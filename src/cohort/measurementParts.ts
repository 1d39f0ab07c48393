import { InputError } from "../results/index.js";
import type { ColumnMapping, FindingBlock, ReadingBlock } from "./columnMapping.js";

/** One measurement of one eye, as a row of the file holds it: columns by position. */
export interface MeasurementPart<Block extends ReadingBlock | FindingBlock> {
  readonly block: Block;
  /** Code of the eye, or null where the eye column says it. */
  readonly eye: 0 | 1 | null;
  /** Position in the header of each mapped key. */
  readonly at: ReadonlyMap<string, number>;
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
    if (columns !== undefined) parts.push({ block, eye: null, at: locate(columns) });
    if (right !== undefined) parts.push({ block, eye: 0, at: locate(right) });
    if (left !== undefined) parts.push({ block, eye: 1, at: locate(left) });
  }
  return parts;

  function locate(columns: Readonly<Record<string, string | undefined>>): Map<string, number> {
    const at = new Map<string, number>();
    for (const [key, name] of Object.entries({ ...mapping.columns, ...columns })) {
      if (name === undefined) continue;
      const position = header.indexOf(name);
      if (position < 0) {
        throw new InputError(
          `${caller} requires the column "${name}" (mapped to ${key}), got ${header.length} columns without it`,
        );
      }
      if (header.indexOf(name, position + 1) >= 0) {
        throw new InputError(`${caller} requires one column "${name}", got several of that name`);
      }
      at.set(key, position);
    }
    return at;
  }
}
