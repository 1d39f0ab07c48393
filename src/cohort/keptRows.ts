import type { ColumnMapping, FindingBlock, ReadingBlock } from "./columnMapping.js";
import { type LabelList, labelTranslator } from "./labelList.js";
import type { MeasurementPart } from "./measurementParts.js";
import type { ProblemLog } from "./problemLog.js";
import type { TextTable } from "./textTable.js";

const defaultEyes = { right: ["OD", "R", "right", "Right"], left: ["OS", "L", "left", "Left"] };

/** Rows of a table that are kept, with the codes of their subjects and eyes. */
export interface KeptRows {
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
  subjects: LabelList,
  missing: ReadonlySet<string>,
  oneColumn: boolean,
) {
  const { right, left } = words ?? defaultEyes;
  const eyeCodes = new Map([
    ...right.map((word) => [word, 0] as const),
    ...left.map((word) => [word, 1] as const),
  ]);
  let scanned = false;
  const subjectCodes = labelTranslator((label) => {
    if (label === "" || (missing.size > 0 && missing.has(label))) return -1;
    // the labels of a scanned column are distinct already
    return scanned && oneColumn ? subjects.add(label) : subjects.codeOf(label);
  });
  const sides = labelTranslator((label) => eyeCodes.get(label) ?? -1);

  return (
    table: TextTable,
    log: ProblemLog,
    { at, eye: fixedEye }: MeasurementPart<ReadingBlock | FindingBlock>,
  ): KeptRows => {
    scanned = !table.whole;
    const subjectColumn = at.get("subject") ?? 0;
    const eyeColumn = at.get("eye") ?? 0;
    const subjectCells = table.coded(subjectColumn);
    const codeOf = subjectCodes(subjectCells.labels);
    const eyeCells = fixedEye === null ? table.coded(eyeColumn) : null;
    const sideOf = eyeCells === null ? null : sides(eyeCells.labels);
    const rows = new Int32Array(table.n);
    const subject = new Int32Array(table.n);
    const eye = new Uint8Array(table.n);
    let n = 0;
    for (let row = 0; row < table.n; row++) {
      const code = codeOf[subjectCells.codes[row]];
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
    return { rows: rows.subarray(0, n), subject: subject.subarray(0, n), eye: eye.subarray(0, n) };

    function reject(row: number, column: number, rule: "subject-missing" | "eye-unknown"): void {
      const text = table.text(column, row);
      log.add(table.line(row), table.header[column], text, rule, "row-rejected");
    }
  };
}
