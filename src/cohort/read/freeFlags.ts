import { InputError } from "../../results/index.js";
import type { FindingBlock, ReadingBlock } from "../columnMapping.js";
import type { FreeFlag } from "../types.js";
import { type GrowableCodes, growableCodes } from "./growable.js";
import { type LabelList, labelList } from "./labelList.js";
import { type MeasurementPart, withoutColumn } from "./measurementParts.js";
import type { CellContext } from "./readCells.js";

type Part = MeasurementPart<ReadingBlock | FindingBlock>;

/**
 * Collects the columns that a block names in `flags`, with their words as they stand; a block that
 * does not name a flag leaves it empty in its rows. Flags of a row with both eyes are of both.
 *
 * @throws InputError (from `add`) for a column that is not in the header
 */
export function freeFlags(caller: "readReadings" | "readFindings") {
  const flags = new Map<string, { words: LabelList; codes: GrowableCodes }>();
  let rowsBefore = 0;

  return {
    add({ block }: Part, { table, rows, missing: missingIn }: CellContext): void {
      const named = new Map(Object.entries(block.flags ?? {}));
      for (const label of named.keys()) {
        if (flags.has(label)) continue;
        const flag = { words: labelList(), codes: growableCodes() };
        flag.codes.fill(flag.words.codeOf(""), rowsBefore);
        flags.set(label, flag);
      }
      for (const [label, { words, codes }] of flags) {
        const name = named.get(label);
        if (name === undefined) {
          codes.fill(words.codeOf(""), rows.length);
          continue;
        }
        const column = table.header.indexOf(name);
        if (column < 0) {
          throw new InputError(
            `${caller} requires the column "${name}" (flag ${label}), got ${withoutColumn(name, table.header)}`,
          );
        }
        const cells = table.coded(column);
        const missing = missingIn(`flag ${label}`, column, "anything");
        codes.append(
          rows.map((row) => {
            const word = cells.labels[cells.codes[row]];
            return words.codeOf(missing.says(word) ? "" : word);
          }),
        );
      }
      rowsBefore += rows.length;
    },

    finish: (): readonly FreeFlag[] =>
      [...flags].map(([label, { words, codes }]) => ({
        label,
        values: { codes: codes.finish(), labels: words.labels },
      })),
  };
}
