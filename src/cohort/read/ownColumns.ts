import { InputError } from "../../results/index.js";
import type { FindingBlock, ReadingBlock } from "../columnMapping.js";
import { ownColumnsOf } from "../mappingChecks.js";
import type { OwnColumn } from "../types.js";
import { growableCodes, growableNumbers } from "./growable.js";
import { labelList } from "./labelList.js";
import { type MeasurementPart, withoutColumn } from "./measurementParts.js";
import { type CellContext, readNumbers } from "./readCells.js";

type Part = MeasurementPart<ReadingBlock | FindingBlock>;

/** What a number of the user's own can be: anything that is finite. */
export const ownNumbers = { low: -Number.MAX_VALUE, high: Number.MAX_VALUE } as const;

/**
 * Collects the columns that blocks name in `own`; a block that does not name one leaves it empty in its
 * rows. What a row with both eyes says is of both.
 *
 * @throws InputError (from `add`) for a column that is not in the header, and for a label with two types
 */
export function ownColumns(caller: "readReadings" | "readFindings") {
  const columns = new Map<string, ReturnType<typeof words> | ReturnType<typeof numbers>>();
  let rowsBefore = 0;

  return {
    add({ block }: Part, context: CellContext): void {
      const { table, rows } = context;
      const named = new Map(ownColumnsOf(block).map((one) => [one.label, one]));
      for (const { label, type, coded } of named.values()) {
        const known = columns.get(label);
        if (known === undefined) {
          const made = type === "words" ? words(label, coded) : numbers(label);
          made.skip(rowsBefore);
          columns.set(label, made);
        } else if (known.type !== type) {
          throw new InputError(
            `${caller} requires one type for the own column ${label}, got ${known.type} and ${type}; say the same in every block`,
          );
        }
      }
      for (const [label, column] of columns) {
        const given = named.get(label);
        if (given === undefined) {
          column.skip(rows.length);
          continue;
        }
        const position = table.header.indexOf(given.column);
        if (position < 0) {
          throw new InputError(
            `${caller} requires the column "${given.column}" (own column ${label}), got ${withoutColumn(given.column, table.header)}`,
          );
        }
        column.add(context, position);
      }
      rowsBefore += rows.length;
    },

    finish: (): readonly OwnColumn[] => [...columns.values()].map((column) => column.finish()),
  };
}

function words(label: string, coded: boolean) {
  const list = labelList();
  list.codeOf("");
  const codes = growableCodes();
  return {
    type: "words" as const,
    skip: (count: number) => codes.fill(0, count),
    add({ table, rows, missing }: CellContext, column: number): void {
      const nothing = missing(`own ${label}`, column, "anything");
      const cells = table.coded(column);
      const codeOf = cells.labels.map((word) =>
        list.codeOf(nothing.says(word) ? "" : wholeWord(word)),
      );
      const into = codes.claim(rows.length);
      for (let k = 0; k < rows.length; k++) into[k] = codeOf[cells.codes[rows[k]]];
    },
    finish(): OwnColumn {
      // a name gives way to its number in the order of the file
      const labels = list.labels.map((word, at) => (coded && at > 0 ? `${label} ${at}` : word));
      return { label, type: "words", values: { codes: codes.finish(), labels } };
    },
  };
}

/** A category written as a floating number, 1.0, is the category 1. */
function wholeWord(word: string): string {
  return /^\d+[.,]0+$/.test(word) ? String(Number.parseInt(word, 10)) : word;
}

function numbers(label: string) {
  const values = growableNumbers();
  return {
    type: "number" as const,
    skip: (count: number) => values.fill(Number.NaN, count),
    add(context: CellContext, column: number): void {
      const key = `own ${label}`;
      const rule = { ...ownNumbers, key, unbounded: true, rule: "value-range" } as const;
      readNumbers(context, column, rule, values.claim(context.rows.length));
    },
    finish: (): OwnColumn => ({ label, type: "number", values: values.finish() }),
  };
}
