import type { RunOptions } from "../results/index.js";
import { InputError } from "../results/index.js";
import { type ColumnMapping, defineColumns, type ReadingBlock } from "./columnMapping.js";
import { defaultReadingColumns } from "./defaultColumns.js";
import { growableCodes } from "./growable.js";
import { labelList } from "./labelList.js";
import { measurementParts } from "./measurementParts.js";
import { openTable, type Source, sourceName } from "./openTable.js";
import { problemLog } from "./problemLog.js";
import { readNumbers, readWords, wholeNumbers } from "./readCells.js";
import { collectMeasurements, optionalNumbers } from "./readMeasurements.js";
import { sharedPlane } from "./sharedPlane.js";
import { checkDuplicates, checkRangeEnds } from "./suspicions.js";
import { corrections, cycloplegiaStates, type Readings } from "./types.js";

export interface ReadOptions extends RunOptions {
  /** The column mapping; without it the file's columns carry the names of the fields. */
  readonly columns?: ColumnMapping;
  /** Stop on the first cell that would be set aside. */
  readonly strict?: boolean;
}

/** What each further numeric column of a reading can be; common practice, no source. */
const limits = {
  repeat: [1, 1000],
  confidenceScore: [-1e9, 1e9],
  pupilMm: [0.5, 12],
  gazeHorizontal: [-90, 90],
  gazeVertical: [-90, 90],
  interpupillaryMm: [20, 90],
} as const;
type ReadingNumber = keyof typeof limits;
const readingNumbers = Object.keys(limits) as ReadingNumber[];

/**
 * Reads screening readings from a file or from rows in memory into columns. Every measurement of
 * every eye is kept with its status; each cell that was rejected, altered or looks wrong is listed
 * in `problems`. Nothing is repaired. Sphere and cylinder in dioptres, axis in degrees; cylinders
 * keep the sign they were written with.
 *
 * @param source path of a CSV or TSV file, or rows as objects
 * @throws InputError for a source that cannot be read or a mapping that does not fit it
 * @example
 * (await readReadings([{ subject: "a", eye: "OD", sphere: -1, cylinder: 0, axis: 0 }])).n // => 1
 */
export async function readReadings(source: Source, options: ReadOptions = {}): Promise<Readings> {
  const { signal, onProgress, strict } = options;
  const log = problemLog(sourceName(source), { strict });
  const given = options.columns === undefined ? null : defineColumns(options.columns);
  const table = await openTable(source, given?.text ?? {}, log, "readReadings");
  signal?.throwIfAborted();
  const mapping = given ?? defaultReadingColumns(table.header);
  if (mapping.readings === undefined) {
    throw new InputError("readReadings requires a mapping with readings, got one without");
  }
  const parts = measurementParts<ReadingBlock>(
    mapping,
    mapping.readings,
    table.header,
    "readReadings",
  );
  const measurements = collectMeasurements(mapping);
  const instrument = growableCodes();
  const instruments = labelList();
  const correction = growableCodes();
  const cycloplegia = growableCodes();
  const attempt = growableCodes();
  let anyAttempt = false;
  const numbers = new Map(readingNumbers.map((key) => [key, optionalNumbers()]));

  parts.forEach((part, index) => {
    signal?.throwIfAborted();
    const { block, at } = part;
    const context = measurements.add(table, log, part);
    const count = context.rows.length;
    const words = <Word extends string>(
      key: string,
      list: readonly Word[],
      option: Word | { codes: Record<string, Word> } | undefined,
      otherwise: Word,
    ): Int32Array => {
      const column = at.get(key);
      if (typeof option === "string") return new Int32Array(count).fill(list.indexOf(option));
      if (column === undefined) return new Int32Array(count).fill(list.indexOf(otherwise));
      return readWords(context, column, list, option?.codes, list.indexOf(otherwise));
    };
    const instrumentColumn = at.get("instrument");
    if (block.instrument !== undefined || instrumentColumn === undefined) {
      instrument.fill(instruments.codeOf(block.instrument ?? "instrument"), count);
    } else {
      const cells = table.coded(instrumentColumn);
      const codes = cells.labels.map((label) => instruments.codeOf(label));
      instrument.append(Int32Array.from(context.rows, (row) => codes[cells.codes[row]]));
    }
    correction.append(words("correction", corrections, block.correction, "unknown"));
    cycloplegia.append(words("cycloplegia", cycloplegiaStates, block.cycloplegia, "unknown"));
    anyAttempt ||= block.attempt !== undefined || at.has("attempt");
    attempt.append(words("attempt", ["first", "final"] as const, block.attempt, "final"));
    for (const key of readingNumbers) {
      const column = at.get(key);
      const list = numbers.get(key)!;
      if (column === undefined) {
        list.skip(count);
        continue;
      }
      const scale = key === "confidenceScore" ? block.confidenceScale : undefined;
      const [low, high] = scale ?? limits[key];
      const values = readNumbers(context, column, { low, high, rule: "value-range" });
      list.append(key === "repeat" ? wholeNumbers(context, column, values, "not-whole") : values);
    }
    onProgress?.({ stage: "reading", done: (index + 1) / parts.length });
  });

  const shared = measurements.finish([]);
  const readings: Readings = {
    kind: "readings",
    ...shared,
    instrument: { codes: instrument.finish(), labels: instruments.labels },
    repeat: numbers.get("repeat")!.finish(),
    attempt: anyAttempt
      ? { codes: Uint8Array.from(attempt.finish()), labels: ["first", "final"] }
      : null,
    correction: { codes: Uint8Array.from(correction.finish()), labels: corrections },
    cycloplegia: { codes: Uint8Array.from(cycloplegia.finish()), labels: cycloplegiaStates },
    confidenceScore: numbers.get("confidenceScore")!.finish(),
    pupilMm: numbers.get("pupilMm")!.finish(),
    gazeHorizontal: numbers.get("gazeHorizontal")!.finish(),
    gazeVertical: numbers.get("gazeVertical")!.finish(),
    interpupillaryMm: numbers.get("interpupillaryMm")!.finish(),
    workingDistanceMm: mapping.readings[0].workingDistanceMm ?? null,
    vertexMm: sharedPlane(mapping.readings, log),
  };
  checkDuplicates(readings, log);
  checkRangeEnds(readings, log);
  return { ...readings, problems: byLine(log.problems) };
}

function byLine(problems: Readings["problems"]): Readings["problems"] {
  return problems.toSorted((a, b) => (a.row ?? 0) - (b.row ?? 0));
}
