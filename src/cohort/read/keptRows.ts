import type { ColumnMapping, FindingBlock, ReadingBlock } from "../columnMapping.js";
import type { ProblemLog } from "../problemLog.js";
import { codeWords, knownCodes } from "./codeWords.js";
import { labelTranslator } from "./labelList.js";
import type { MeasurementPart } from "./measurementParts.js";
import type { missingCodes } from "./missingCodes.js";
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
 * A row without a subject, or whose eye is not known, is listed and rejected. Where the mapping fills
 * subjects down, a row whose subject is left empty is of the subject above it.
 *
 * @param oneColumn whether all measurements of a row take their subject from the same column
 */
export function keptRows(
  { eyes: words, fillDown = [], text }: ColumnMapping,
  missing: ReturnType<typeof missingCodes>,
  oneColumn: boolean,
) {
  const { right, left } = words ?? defaultEyes;
  const eyeCodes = codeWords<number>(
    [...right.map((word) => [word, 0] as const), ...left.map((word) => [word, 1] as const)],
    text?.decimal ?? ".",
  );
  const eyesKnown = knownCodes(eyeCodes);
  const fillsSubject = fillDown.includes("subject");
  let noSubject = missing("subject", "", "names");
  const subjects = subjectCodes((label) => label === "" || noSubject.says(label), oneColumn);
  const sides = labelTranslator((label) => eyeCodes.of(label) ?? -1);
  /** The subject of the last row so far, -1 where it has none. */
  const above = new Map<object, number>();

  let rows = new Int32Array(0);
  let subject = new Int32Array(0);
  let eye = new Uint8Array(0);

  return {
    subjects: subjects.labels,
    /** The arrays are written again for the next part. */
    of(
      table: TextTable,
      log: ProblemLog,
      part: MeasurementPart<ReadingBlock | FindingBlock>,
    ): KeptRows {
      const { at, eye: fixedEye } = part;
      if (rows.length < table.n) {
        rows = new Int32Array(table.n);
        subject = new Int32Array(table.n);
        eye = new Uint8Array(table.n);
      }
      const subjectColumn = at.get("subject") ?? 0;
      const eyeColumn = at.get("eye") ?? 0;
      noSubject = missing("subject", table.header[subjectColumn], "names");
      const subjectCells = table.coded(subjectColumn);
      const codeOf = subjects.of(subjectCells.labels, !table.whole);
      const eyeCells = fixedEye === null ? table.coded(eyeColumn) : null;
      const sideOf = eyeCells === null ? null : sides(eyeCells.labels);
      let before = above.get(part) ?? -1;
      let n = 0;
      for (let row = 0; row < table.n; row++) {
        const label = subjectCells.codes[row];
        let code = codeOf === null ? label : codeOf[label];
        if (code < 0 && fillsSubject) code = before;
        before = code;
        const side = eyeCells === null || sideOf === null ? fixedEye : sideOf[eyeCells.codes[row]];
        if (code < 0) reject(row, subjectColumn, "subject-missing");
        else if (side === null || side < 0) reject(row, eyeColumn, "eye-unknown", eyesKnown);
        else {
          rows[n] = row;
          subject[n] = code;
          eye[n] = side;
          n++;
        }
      }
      above.set(part, before);
      return {
        rows: rows.subarray(0, n),
        subject: subject.subarray(0, n),
        eye: eye.subarray(0, n),
      };

      function reject(
        row: number,
        column: number,
        rule: "subject-missing" | "eye-unknown",
        detail?: string,
      ): void {
        const text = table.text(column, row);
        log.add(table.line(row), table.header[column], text, rule, "row-rejected", detail);
      }
    },
  };
}
