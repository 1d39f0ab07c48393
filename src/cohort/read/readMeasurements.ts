import { jointAudience } from "../../results/index.js";
import type { ColumnMapping, FindingBlock, ReadingBlock } from "../columnMapping.js";
import type { ProblemLog } from "../problemLog.js";
import { eyes, type MeasurementColumns, measurementStatuses, type RawText } from "../types.js";
import { fillDown } from "./fillDown.js";
import { growableBytes, growableCodes, growableNumbers, optionalNumbers } from "./growable.js";
import { keptRows } from "./keptRows.js";
import { labelList, labelTranslator } from "./labelList.js";
import type { MeasurementPart } from "./measurementParts.js";
import { type MissingCells, missingCodes, nothingMissing } from "./missingCodes.js";
import { numberRule } from "./numberRules.js";
import { oneEyeTable } from "./oneEyeTable.js";
import { readAges } from "./readAges.js";
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
  let noSite = nothingMissing;
  const siteOf = labelTranslator((label) => siteList.codeOf(noSite.says(label) ? "" : label));
  const siteCodes = (cells: MissingCells, labels: readonly string[]) => {
    noSite = cells;
    return siteOf(labels);
  };
  const raw = { sphere: [] as string[], cylinder: [] as string[], axis: [] as string[] };
  let wholeText = true;
  let anySite = false;
  const missing = missingCodes(mapping);
  const doubts = new Map<string, number>();
  const fill = fillDown(mapping.fillDown ?? []);
  const subjectColumns = new Set(parts.map(({ at }) => at.get("subject")));
  const keep = keptRows(mapping, missing, subjectColumns.size === 1);

  return {
    /** Takes one part; returns what its further columns are read with. */
    add(whole: TextTable, log: ProblemLog, part: Part): CellContext {
      const table = oneEyeTable(whole, part);
      const { at } = part;
      const kept = keep.of(table, log, part);
      const context: CellContext = {
        table,
        log,
        rows: kept.rows,
        missing: (key, column, holds) => missing(key, table.header[column], holds),
        doubt(column, code) {
          const id = JSON.stringify([table.header[column], code]);
          doubts.set(id, (doubts.get(id) ?? 0) + 1);
        },
      };
      fill.next(part, kept.subject);
      const count = kept.rows.length;
      const lines = line.claim(count);
      for (let k = 0; k < count; k++) lines[k] = table.line(kept.rows[k]);
      partOf.fill(parts.indexOf(part), count);
      subjects.append(kept.subject);
      eye.append(kept.eye);
      readPower(context, part, {
        sphere: sphere.claim(count),
        cylinder: cylinder.claim(count),
        axis: axis.claim(count),
        status: status.claim(count),
      });
      addRaw(whole, at, kept.rows);
      addDay(context, part, count);
      addAge(context, part, count);
      const siteColumn = at.get("site");
      anySite ||= siteColumn !== undefined;
      if (siteColumn === undefined) site.fill(siteList.codeOf(""), count);
      else {
        const cells = table.coded(siteColumn);
        const noSite = context.missing("site", siteColumn, "names");
        const codes = siteCodes(noSite, cells.labels);
        const into = site.claim(count);
        for (let k = 0; k < count; k++) into[k] = codes[cells.codes[kept.rows[k]]];
        fill.down("site", into, (code) => code === siteList.codeOf(""));
      }
      return context;
    },

    finish(log: ProblemLog, lineOf: ((line: number) => number) | undefined): MeasurementColumns {
      fill.requireWhole(log);
      for (const [id, count] of doubts) {
        const [column, code] = JSON.parse(id) as [string, number];
        const cells = count === 1 ? "1 cell" : `${count} cells`;
        const detail = `${cells} of ${column} stayed ${code}; if they are missing, say it of this column: "missing": { "columns": { "${column}": [${code}] } }`;
        log.add(null, column, String(code), "missing-code-kept", "kept", detail);
      }
      const lines = line.finish();
      return {
        n: lines.length,
        ...jointAudience(mapping),
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
    readNumbers(context, column, numberRule("day", block), values);
    wholeNumbers(context, column, values, "not-whole");
    fill.down("day", values, Number.isNaN);
  }

  /** Of several columns the first that is filled counts; a row has months or years, never both. */
  function addAge(context: CellContext, { ages }: Part, count: number): void {
    const units = new Set(ages.map(({ unit }) => unit));
    const inYears = units.has("years") || units.has("years-and-months");
    if (ages.length === 0 || (units.size === 1 && units.has("years"))) ageMonths.skip(count);
    if (!inYears) ageYears.skip(count);
    if (ages.length === 0) return;
    const onlyYears = units.size === 1 && units.has("years");
    const months = (onlyYears ? new Float64Array(count) : ageMonths.claim(count)).fill(Number.NaN);
    const years = (inYears ? ageYears.claim(count) : new Float64Array(count)).fill(Number.NaN);
    for (const { at, unit } of ages) {
      const read = readAges(context, at, unit);
      for (let k = 0; k < count; k++) {
        if (!Number.isNaN(months[k]) || !Number.isNaN(years[k])) continue;
        months[k] = read.months[k];
        years[k] = read.years[k];
      }
    }
    const unknown = months.map((value, k) =>
      Number.isNaN(value) && Number.isNaN(years[k]) ? 1 : 0,
    );
    fill.down("age", months, (_, k) => unknown[k] === 1, "months");
    fill.down("age", years, (_, k) => unknown[k] === 1, "years");
  }
}
