import type { ColumnMapping, FindingBlock, ReadingBlock } from "../columnMapping.js";
import type { ProblemLog } from "../problemLog.js";
import { labelTranslator } from "./labelList.js";
import type { MeasurementPart } from "./measurementParts.js";
import { subjectCodes } from "./subjectCodes.js";
import type { TextTable } from "./textTable.js";

const defaultEyes = { right: ["OD", "R", "right", "Right"], left: ["OS", "L", "left", "Left"] };

/** Rows of a table that are kept, with the codes of their subjects and eyes. */
interface KeptRows {
  readonly rows: Int32Array;
  readonly subject: Int32Array;
  readonly eye: Uint8Array;
}

/**
 * A row without a subject, or whose eye is not known, is listed and rejected.
 *
 * @param oneColumn whether all measurements of a row take their subject from the same column
 */
export function keptRows(
  words: ColumnMapping["eyes"],
  missing: ReadonlySet<string>,
  oneColumn: boolean,
) {
  const { right, left } = words ?? defaultEyes;
  const eyeCodes = new Map([
    ...right.map((word) => [word, 0] as const),
    ...left.map((word) => [word, 1] as const),
  ]);
  const subjects = subjectCodes(
    (label) => label === "" || (missing.size > 0 && missing.has(label)),
    oneColumn,
  );
  const sides = labelTranslator((label) => eyeCodes.get(label) ?? -1);

  let rows = new Int32Array(0);
  let subject = new Int32Array(0);
  let eye = new Uint8Array(0);

  return {
    subjects: subjects.labels,
    /** The arrays are written again for the next part. */
    of(
      table: TextTable,
      log: ProblemLog,
      { at, eye: fixedEye }: MeasurementPart<ReadingBlock | FindingBlock>,
    ): KeptRows {
      if (rows.length < table.n) {
        rows = new Int32Array(table.n);
        subject = new Int32Array(table.n);
        eye = new Uint8Array(table.n);
      }
      const subjectColumn = at.get("subject") ?? 0;
      const eyeColumn = at.get("eye") ?? 0;
      const subjectCells = table.coded(subjectColumn);
      const codeOf = subjects.of(subjectCells.labels, !table.whole);
      const eyeCells = fixedEye === null ? table.coded(eyeColumn) : null;
      const sideOf = eyeCells === null ? null : sides(eyeCells.labels);
      let n = 0;
      for (let row = 0; row < table.n; row++) {
        const label = subjectCells.codes[row];
        const code = codeOf === null ? label : codeOf[label];
        const side = eyeCells === null || sideOf === null ? fixedEye : sideOf[eyeCells.codes[row]];
        if (code < 0) reject(row, subjectColumn, "subject-missing");
        else if (side === null || side < 0) reject(row, eyeColumn, "eye-unknown");
        else {
          rows[n] = row;
          subject[n] = code;
          eye[n] = side;
          n++;
        }
      }
      return {
        rows: rows.subarray(0, n),
        subject: subject.subarray(0, n),
        eye: eye.subarray(0, n),
      };

      function reject(row: number, column: number, rule: "subject-missing" | "eye-unknown"): void {
        const text = table.text(column, row);
        log.add(table.line(row), table.header[column], text, rule, "row-rejected");
      }
    },
  };
}
