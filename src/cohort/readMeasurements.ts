import type { ColumnMapping, FindingBlock, ReadingBlock } from "./columnMapping.js";
import { growableCodes, growableNumbers } from "./growable.js";
import { type LabelList, labelList } from "./labelList.js";
import type { MeasurementPart } from "./measurementParts.js";
import type { ProblemLog } from "./problemLog.js";
import { type CellContext, readNumbers, wholeNumbers } from "./readCells.js";
import { readPower } from "./readPower.js";
import type { TextTable } from "./textTable.js";
import { type Coded, eyes, type MeasurementColumns, measurementStatuses } from "./types.js";

const defaultEyes = { right: ["OD", "R", "right", "Right"], left: ["OS", "L", "left", "Left"] };

/** Collects what readings and findings share; `add` takes one part of one table. */
export function collectMeasurements(mapping: ColumnMapping) {
  const line = growableCodes();
  const subjects = growableCodes();
  const subjectLabels = labelList();
  const eye = growableCodes();
  const status = growableCodes();
  const sphere = growableNumbers();
  const cylinder = growableNumbers();
  const axis = growableNumbers();
  const day = optionalNumbers();
  const ageMonths = optionalNumbers();
  const ageYears = optionalNumbers();
  const site = growableCodes();
  const siteLabels = labelList();
  let anySite = false;
  const missing = new Set(mapping.missing ?? []);
  const missingNumbers = new Set([...missing].map(Number).filter((code) => !Number.isNaN(code)));
  const eyeCodes = new Map<string, number>([
    ...(mapping.eyes ?? defaultEyes).right.map((word) => [word, 0] as const),
    ...(mapping.eyes ?? defaultEyes).left.map((word) => [word, 1] as const),
  ]);

  return {
    /** Takes one part; returns what its further columns are read with. */
    add(
      table: TextTable,
      log: ProblemLog,
      part: MeasurementPart<ReadingBlock | FindingBlock>,
    ): CellContext {
      const { at } = part;
      const kept = keptRows(table, log, part);
      const context: CellContext = { table, log, rows: kept.rows, missing, missingNumbers };
      const count = kept.rows.length;
      line.append(Int32Array.from(kept.rows, (row) => table.line(row)));
      subjects.append(kept.subject);
      eye.append(kept.eye);
      const power = readPower(context, part);
      status.append(power.status);
      sphere.append(power.sphere);
      cylinder.append(power.cylinder);
      axis.append(power.axis);
      addDay(context, at.get("day"), count);
      addAge(context, at.get("age"), count);
      const siteColumn = at.get("site");
      anySite ||= siteColumn !== undefined;
      if (siteColumn === undefined) site.fill(siteLabels.codeOf(""), count);
      else site.append(interned(table.coded(siteColumn), kept.rows, siteLabels));
      return context;
    },
    finish(problems: MeasurementColumns["problems"]): MeasurementColumns {
      const lines = line.finish();
      return {
        n: lines.length,
        line: lines,
        subject: { codes: subjects.finish(), labels: subjectLabels.labels },
        eye: { codes: Uint8Array.from(eye.finish()), labels: eyes },
        status: { codes: Uint8Array.from(status.finish()), labels: measurementStatuses },
        sphere: sphere.finish(),
        cylinder: cylinder.finish(),
        axis: axis.finish(),
        day: day.finish(),
        ageMonths: ageMonths.finish(),
        ageYears: ageYears.finish(),
        site: anySite ? { codes: site.finish(), labels: siteLabels.labels } : null,
        problems: problems.toSorted((a, b) => (a.row ?? 0) - (b.row ?? 0)),
      };
    },
  };

  function keptRows(
    table: TextTable,
    log: ProblemLog,
    { at, eye: fixedEye }: MeasurementPart<ReadingBlock | FindingBlock>,
  ) {
    const subjectColumn = at.get("subject") ?? 0;
    const eyeColumn = at.get("eye");
    const subjectCells = table.coded(subjectColumn);
    const subjectCodes = codesOf(subjectCells, subjectLabels, missing);
    const eyeCells = fixedEye === null && eyeColumn !== undefined ? table.coded(eyeColumn) : null;
    const rows = new Int32Array(table.n);
    const subject = new Int32Array(table.n);
    const side = new Int32Array(table.n);
    let n = 0;
    for (let row = 0; row < table.n; row++) {
      const code = subjectCodes[subjectCells.codes[row]];
      if (code < 0) {
        const text = table.text(subjectColumn, row);
        log.add(
          table.line(row),
          table.header[subjectColumn],
          text,
          "subject-missing",
          "row-rejected",
        );
        continue;
      }
      let eyeCode: number | undefined = fixedEye ?? 0;
      if (eyeCells !== null) {
        const word = eyeCells.labels[eyeCells.codes[row]];
        eyeCode = eyeCodes.get(word);
        if (eyeCode === undefined) {
          log.add(
            table.line(row),
            table.header[eyeColumn ?? 0],
            word,
            "eye-unknown",
            "row-rejected",
          );
          continue;
        }
      }
      rows[n] = row;
      subject[n] = code;
      side[n] = eyeCode;
      n++;
    }
    return { rows: rows.subarray(0, n), subject: subject.subarray(0, n), eye: side.subarray(0, n) };
  }

  function addDay(context: CellContext, column: number | undefined, count: number): void {
    if (column === undefined) {
      day.skip(count);
      return;
    }
    const values = readNumbers(context, column, {
      low: -100_000,
      high: 100_000,
      rule: "value-range",
    });
    day.append(wholeNumbers(context, column, values, "not-whole"));
  }

  function addAge(context: CellContext, column: number | undefined, count: number): void {
    if (column === undefined) {
      ageMonths.skip(count);
      ageYears.skip(count);
      return;
    }
    const high = mapping.age === "months" ? 1440 : 120;
    const values = readNumbers(context, column, { low: 0, high, rule: "age-range" });
    if (mapping.age === "years") {
      ageYears.append(wholeNumbers(context, column, values, "age-not-whole"));
      ageMonths.skip(count);
    } else {
      const factor = mapping.age === "decimal-years" ? 12 : 1;
      ageMonths.append(wholeNumbers(context, column, values, "age-not-whole", factor));
      ageYears.skip(count);
    }
  }
}

/** A numeric column that stays null until some part has it. */
export function optionalNumbers() {
  const values = growableNumbers();
  let present = false;
  return {
    append(more: Float64Array): void {
      present = true;
      values.append(more);
    },
    skip(count: number): void {
      values.fill(Number.NaN, count);
    },
    finish: (): Float64Array | null => (present ? values.finish() : null),
  };
}

function codesOf(
  cells: { labels: readonly string[] },
  list: LabelList,
  missing: ReadonlySet<string>,
) {
  return Int32Array.from(cells.labels, (label) =>
    label === "" || missing.has(label) ? -1 : list.codeOf(label),
  );
}

function interned(cells: Coded, rows: Int32Array, list: LabelList): Int32Array {
  const codes = cells.labels.map((label) => list.codeOf(label));
  return Int32Array.from(rows, (row) => codes[cells.codes[row]]);
}
