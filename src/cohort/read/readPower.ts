import type { FindingBlock, ReadingBlock } from "../columnMapping.js";
import { type MeasurementStatus, measurementStatuses } from "../types.js";
import { codeWords } from "./codeWords.js";
import type { MeasurementPart } from "./measurementParts.js";
import { numberRule } from "./numberRules.js";
import { type CellContext, readNumbers, readWords } from "./readCells.js";
import { readPrescriptions } from "./readPrescriptions.js";
import { parseNumber } from "./textTable.js";

/** What one part is read into; see `readPower`. */
interface PowerColumns {
  readonly sphere: Float64Array;
  readonly cylinder: Float64Array;
  readonly axis: Float64Array;
  readonly status: Uint8Array;
}

const measured = 0;
const overRange = measurementStatuses.indexOf("over-range");
const underRange = measurementStatuses.indexOf("under-range");

/**
 * Writes sphere, cylinder, axis and status of one part. A wrong cell is set aside and the rest is kept:
 * without an axis M stays usable; without sphere or cylinder the row stays, and M is missing.
 */
export function readPower(
  context: CellContext,
  part: MeasurementPart<ReadingBlock | FindingBlock>,
  { sphere, cylinder, axis, status }: PowerColumns,
): void {
  const { table, log, rows } = context;
  const { block, at } = part;
  const marks = codeWords<MeasurementStatus>(Object.entries(block.marks ?? {}), table.decimal);
  const column = (key: "sphere" | "cylinder" | "axis", into: Float64Array) => {
    const position = at.get(key);
    if (position === undefined) return into.fill(Number.NaN);
    // marks stand in place of a sphere; an axis of a row without powers is no doubt
    const more = { marks, marksFirst: key === "sphere", quiet: key === "axis" };
    return readNumbers(context, position, { ...numberRule(key, block), ...more }, into);
  };
  const text = at.get("prescription");
  if (text === undefined) {
    column("sphere", sphere);
    column("cylinder", cylinder);
    column("axis", axis);
  } else readPrescriptions(context, text, marks, { sphere, cylinder, axis });

  // an eye of which only the stated equivalent is known was measured, too
  const cells = (
    ["sphere", "cylinder", "axis", "prescription", "statedEquivalent"] as const
  ).flatMap((key) => {
    const position = at.get(key);
    if (position === undefined) return [];
    const rule = key === "prescription" ? null : numberRule(key, block);
    const missing = context.missing(
      key,
      position,
      rule === null ? "anything" : [rule.low, rule.high],
    );
    return [{ key, position, rule, missing }];
  });
  const statusColumn = at.get("status");
  const declared = statusColumn !== undefined;
  if (declared) readStatus(statusColumn);
  else status.fill(measured);
  const empty = measurementStatuses.indexOf(block.whenEmpty ?? "not-attempted");
  for (let k = 0; k < rows.length; k++) {
    const row = rows[k];
    const whole = !Number.isNaN(sphere[k]) && !Number.isNaN(cylinder[k]) && !Number.isNaN(axis[k]);
    if (!whole && status[k] === measured)
      status[k] = markOf(row) ?? (isEmpty(row) ? empty : measured);
    if (status[k] !== measured) {
      const value = [sphere[k], cylinder[k]].find((number) => !Number.isNaN(number));
      if (value !== undefined) {
        log.add(line(row), name("sphere"), String(value), "status-contradiction", "set-aside");
      }
      sphere[k] = Number.NaN;
      cylinder[k] = Number.NaN;
      axis[k] = Number.NaN;
      continue;
    }
    checkParts(k, row);
    checkRange(k, row);
  }
  const doubtfulAxes = cells.find(({ key }) => key === "axis")?.missing.doubtful ?? new Set();
  if (doubtfulAxes.size > 0) {
    for (const value of axis) if (doubtfulAxes.has(value)) context.doubt(at.get("axis")!, value);
  }

  function line(row: number): number {
    return table.line(row);
  }

  function name(key: string): string {
    const position = at.get(key);
    return position === undefined ? key : table.header[position];
  }

  function written(key: string, row: number): string {
    const position = at.get(key);
    return position === undefined ? "" : table.text(position, row);
  }

  function readStatus(position: number): void {
    readWords(
      context,
      "status",
      position,
      measurementStatuses,
      block.status?.codes,
      measured,
      status,
    );
  }

  function markOf(row: number): number | undefined {
    if (marks.written.length === 0) return undefined;
    for (const { key, position, rule } of cells) {
      if (key === "statedEquivalent") continue;
      const text = table.text(position, row);
      const status = marks.of(text);
      if (status === undefined) continue;
      // a number that the cylinder or the axis can be is no mark there
      const number = parseNumber(text, table.decimal);
      if (key !== "sphere" && rule !== null && number >= rule.low && number <= rule.high) continue;
      return measurementStatuses.indexOf(status);
    }
    return undefined;
  }

  function isEmpty(row: number): boolean {
    return cells.every(({ key, position, missing }) => {
      const text = table.text(position, row);
      if (text === "" || missing.says(text)) return true;
      // an axis alone is no measurement, and may be a code for missing
      return key === "axis" && missing.doubtful.has(parseNumber(text, table.decimal));
    });
  }

  /** A cell that was set aside is listed already; one that was left empty is listed here. */
  function isBlank(key: string, row: number): boolean {
    const cell = cells.find((one) => one.key === key);
    if (cell === undefined) return true;
    const text = table.text(cell.position, row);
    return text === "" || cell.missing.says(text);
  }

  function checkParts(k: number, row: number): void {
    if (Number.isNaN(sphere[k]) && !Number.isNaN(cylinder[k]) && isBlank("sphere", row)) {
      log.add(line(row), name("sphere"), "", "sphere-missing", "kept");
    }
    if (Number.isNaN(cylinder[k])) {
      if (!Number.isNaN(sphere[k]) && isBlank("cylinder", row)) {
        log.add(line(row), name("cylinder"), "", "cylinder-missing", "kept");
      }
      return;
    }
    if (cylinder[k] === 0) {
      // axis 0 beside cylinder 0 is how many files write "none"
      if (axis[k] > 0) {
        log.add(line(row), name("axis"), written("axis", row), "axis-beside-zero-cylinder", "kept");
      }
    } else if (Number.isNaN(axis[k]) && text === undefined && isBlank("axis", row)) {
      log.add(line(row), name("axis"), "", "axis-missing", "kept");
    }
    const wrong =
      (block.cylinder === "minus" && cylinder[k] > 0) ||
      (block.cylinder === "plus" && cylinder[k] < 0);
    if (wrong) {
      log.add(line(row), name("cylinder"), written("cylinder", row), "cylinder-sign", "set-aside");
      cylinder[k] = Number.NaN;
      axis[k] = Number.NaN;
    }
  }

  function checkRange(k: number, row: number): void {
    if (block.range === undefined) return;
    const [low, high] = block.range;
    if (sphere[k] > low && sphere[k] < high) return;
    if (Number.isNaN(sphere[k])) return;
    log.add(line(row), name("sphere"), written("sphere", row), "range-end", "altered");
    status[k] = sphere[k] >= high ? overRange : underRange;
    sphere[k] = Number.NaN;
    cylinder[k] = Number.NaN;
    axis[k] = Number.NaN;
  }
}
