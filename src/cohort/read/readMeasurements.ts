import type { ColumnMapping, FindingBlock, ReadingBlock } from "../columnMapping.js";
import type { ProblemLog } from "../problemLog.js";
import { eyes, type MeasurementColumns, measurementStatuses, type RawText } from "../types.js";
import { growableBytes, growableCodes, growableNumbers, optionalNumbers } from "./growable.js";
import { keptRows } from "./keptRows.js";
import { labelList, labelTranslator } from "./labelList.js";
import type { MeasurementPart } from "./measurementParts.js";
import { numberRule } from "./numberRules.js";
import { type CellContext, readNumbers, wholeNumbers } from "./readCells.js";
import { readPower } from "./readPower.js";
import type { TextTable } from "./textTable.js";

type Part = MeasurementPart<ReadingBlock | FindingBlock>;
const powers = ["sphere", "cylinder", "axis"] as const;

/**
 * Collects what readings and findings share; `add` takes one part of one table.
 *
 * @param expected how many measurements there probably are
 */
export function collectMeasurements(
  mapping: ColumnMapping,
  parts: readonly Part[],
  expected: number,
) {
  const line = growableCodes(expected);
  const partOf = growableCodes();
  const subjects = growableCodes(expected);
  const eye = growableBytes();
  const status = growableBytes();
  const sphere = growableNumbers(expected);
  const cylinder = growableNumbers(expected);
  const axis = growableNumbers(expected);
  const day = optionalNumbers(expected);
  const ageMonths = optionalNumbers(expected);
  const ageYears = optionalNumbers(expected);
  const site = growableCodes();
  const siteList = labelList();
  const siteCodes = labelTranslator((label) => siteList.codeOf(label));
  const raw = { sphere: [] as string[], cylinder: [] as string[], axis: [] as string[] };
  let wholeText = true;
  let anySite = false;
  const missing = new Set(mapping.missing ?? []);
  const missingNumbers = new Set([...missing].map(Number).filter((code) => !Number.isNaN(code)));
  const subjectColumns = new Set(parts.map(({ at }) => at.get("subject")));
  const keep = keptRows(mapping.eyes, missing, subjectColumns.size === 1);

  return {
    /** Takes one part; returns what its further columns are read with. */
    add(table: TextTable, log: ProblemLog, part: Part): CellContext {
      const { at } = part;
      const kept = keep.of(table, log, part);
      const context: CellContext = { table, log, rows: kept.rows, missing, missingNumbers };
      const count = kept.rows.length;
      const lines = line.claim(count);
      for (let k = 0; k < count; k++) lines[k] = table.line(kept.rows[k]);
      partOf.fill(parts.indexOf(part), count);
      subjects.append(kept.subject);
      eye.append(kept.eye);
      readPower(context, part, mapping, {
        sphere: sphere.claim(count),
        cylinder: cylinder.claim(count),
        axis: axis.claim(count),
        status: status.claim(count),
      });
      addRaw(table, at, kept.rows);
      addDay(context, part, count);
      addAge(context, part, count);
      const siteColumn = at.get("site");
      anySite ||= siteColumn !== undefined;
      if (siteColumn === undefined) site.fill(siteList.codeOf(""), count);
      else {
        const cells = table.coded(siteColumn);
        const codes = siteCodes(cells.labels);
        const into = site.claim(count);
        for (let k = 0; k < count; k++) into[k] = codes[cells.codes[kept.rows[k]]];
      }
      return context;
    },

    finish(lineOf: ((line: number) => number) | undefined): MeasurementColumns {
      const lines = line.finish();
      return {
        n: lines.length,
        line: lineOf === undefined ? lines : lines.map(lineOf),
        subject: { codes: subjects.finish(), labels: keep.subjects() },
        eye: { codes: eye.finish(), labels: eyes },
        status: { codes: status.finish(), labels: measurementStatuses },
        sphere: sphere.finish(),
        cylinder: cylinder.finish(),
        axis: axis.finish(),
        day: day.finish(),
        ageMonths: ageMonths.finish(),
        ageYears: ageYears.finish(),
        site: anySite ? { codes: site.finish(), labels: siteList.labels } : null,
        rawText: wholeText ? (raw satisfies RawText) : null,
        problems: [],
      };
    },

    /** Where a block allows either sign, the rows of the rarer one are listed and kept as they are. */
    listRarerSigns(
      { n, cylinder: values, line: lines, rawText }: MeasurementColumns,
      log: ProblemLog,
    ) {
      if (parts.every(({ block }) => (block.cylinder ?? "either") !== "either")) return;
      const codes = partOf.finish();
      const plus = new Array<number>(parts.length).fill(0);
      const minus = new Array<number>(parts.length).fill(0);
      for (let row = 0; row < n; row++) {
        if (values[row] > 0) plus[codes[row]]++;
        else if (values[row] < 0) minus[codes[row]]++;
      }
      for (let row = 0; row < n; row++) {
        const part = codes[row];
        if ((parts[part].block.cylinder ?? "either") !== "either") continue;
        if (plus[part] === 0 || minus[part] === 0) continue;
        if (!(plus[part] < minus[part] ? values[row] > 0 : values[row] < 0)) continue;
        const text = rawText?.cylinder[row] || String(values[row]);
        log.add(lines[row], columnName(parts[part]), text, "mixed-cylinder-sign", "kept");
      }
    },
  };

  function columnName({ names }: Part): string | null {
    return names.get("cylinder") ?? names.get("prescription") ?? null;
  }

  function addRaw(table: TextTable, at: ReadonlyMap<string, number>, rows: Int32Array): void {
    wholeText &&= table.whole;
    if (!wholeText) return;
    for (const key of powers) {
      // a prescription in one cell stays beside its sphere
      const column = at.get(key) ?? (key === "sphere" ? at.get("prescription") : undefined);
      for (const row of rows) raw[key].push(column === undefined ? "" : table.text(column, row));
    }
  }

  function addDay(context: CellContext, { at, block }: Part, count: number): void {
    const column = at.get("day");
    if (column === undefined) {
      day.skip(count);
      return;
    }
    const values = day.claim(count);
    readNumbers(context, column, numberRule("day", mapping, block), values);
    wholeNumbers(context, column, values, "not-whole");
  }

  function addAge(context: CellContext, { at, block }: Part, count: number): void {
    const column = at.get("age");
    if (column === undefined || mapping.age === "years") ageMonths.skip(count);
    if (column === undefined || mapping.age !== "years") ageYears.skip(count);
    if (column === undefined) return;
    const values = (mapping.age === "years" ? ageYears : ageMonths).claim(count);
    readNumbers(context, column, numberRule("age", mapping, block), values);
    const factor = mapping.age === "decimal-years" ? 12 : 1;
    wholeNumbers(context, column, values, "age-not-whole", factor);
  }
}
