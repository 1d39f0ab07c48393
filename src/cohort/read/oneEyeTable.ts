import { type EyesOfCell, eyesOfCell } from "../../refraction/index.js";
import type { FindingBlock, ReadingBlock } from "../columnMapping.js";
import type { MeasurementPart } from "./measurementParts.js";
import type { TextTable } from "./textTable.js";

/**
 * A table in which a column of both eyes holds what its cells say of the part's eye, so that it is read as a
 * column of that eye alone. A cell that cannot be taken apart stays whole and has a fault.
 */
export function oneEyeTable(
  table: TextTable,
  { block, eye, at }: MeasurementPart<ReadingBlock | FindingBlock>,
): TextTable {
  const { eyesInCell } = block;
  const column = at.get("prescription");
  if (eyesInCell === undefined || eye === null || column === undefined) return table;
  const known = new Map<string, EyesOfCell>();
  let written: readonly string[] = [];
  const eyesOf = (text: string): EyesOfCell => {
    const found = known.get(text) ?? eyesOfCell(text, eyesInCell);
    known.set(text, found);
    return found;
  };
  const own = (text: string): string => {
    const found = eyesOf(text);
    if (text === "" || found.fault !== undefined) return text;
    return eye === 0 ? found.right : found.left;
  };
  return {
    ...table,
    text: (position, row) =>
      position === column ? own(table.text(position, row)) : table.text(position, row),
    coded: (position) => {
      const cells = table.coded(position);
      if (position !== column) return cells;
      written = cells.labels;
      return { codes: cells.codes, labels: written.map(own) };
    },
    faultOf: (position, code) => (position === column ? eyesOf(written[code]).fault : undefined),
  };
}
