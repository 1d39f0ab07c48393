import { kindOfCell } from "../../privacy/index.js";
import { InputError, type RunOptions } from "../../results/index.js";
import type { FindingBlock, ReadingBlock } from "../columnMapping.js";
import { defineColumns } from "../defineColumns.js";
import { identifierScan, type SuspectedIdentifier } from "../identifiers/identifierScan.js";
import { codedColumns, ownColumnsOf } from "../mappingChecks.js";
import { type ProblemLog, problemLog, problemsByRule } from "../problemLog.js";
import { defaultColumns } from "./defaultColumns.js";
import type { GrowableBytes } from "./growable.js";
import { type MeasurementPart, measurementParts } from "./measurementParts.js";
import { ageRule, type NumberKey, numberKeys, numberRule } from "./numberRules.js";
import { openSource, sourceName } from "./openSource.js";
import { ownNumbers } from "./ownColumns.js";
import { type CellContext, readNumbers, readWords, wholeNumbers } from "./readCells.js";
import { collectMeasurements } from "./readMeasurements.js";
import type { ColumnUse, Source } from "./source.js";

export interface ReadOptions extends RunOptions {
  /**
   * The column mapping (a `ColumnMapping`, checked here); without it the file's columns carry the
   * names of the fields.
   */
  readonly columns?: object;
  /** Stop on the first cell that would be set aside. */
  readonly strict?: boolean;
  /**
   * Columns that may hold what looks like an identifier. A file with any other such column is
   * refused; the subject column may hold codes, but no names, dates or addresses.
   */
  readonly allowIdentifiers?: readonly string[];
  /** Size in bytes from which on a text file is scanned in chunks (4 MB). */
  readonly largeFile?: number;
}

type Blocks = { readings: ReadingBlock; findings: FindingBlock };

/** One part of one table, and how its further columns are read. */
export interface PartReader<Block> {
  readonly part: MeasurementPart<Block & (ReadingBlock | FindingBlock)>;
  readonly context: CellContext;
  /** Whether the part has a column of this key. */
  readonly has: (key: NumberKey) => boolean;
  /** The numbers of a key that the part has. */
  readonly numbers: (key: NumberKey, into: Float64Array) => Float64Array;
  /** Adds a column of words, or the one word that the mapping says, and returns its codes or code. */
  readonly words: <Word extends string>(
    key: string,
    list: readonly Word[],
    option: Word | { codes: Record<string, Word> } | undefined,
    otherwise: Word,
    into: GrowableBytes,
  ) => Uint8Array | number;
}

/** Reads the blocks of one kind, table by table; `visit` sees every part of every table. */
export async function readBlocks<Kind extends keyof Blocks>(
  source: Source,
  options: ReadOptions,
  kind: Kind,
  visit: (reader: PartReader<Blocks[Kind]>) => void,
) {
  const caller = kind === "readings" ? "readReadings" : "readFindings";
  const { signal, onProgress, strict, columns } = options;
  signal?.throwIfAborted();
  const log = problemLog(sourceName(source), { strict });
  const given = columns === undefined ? null : defineColumns(columns);
  const opened = await openSource(source, given?.text ?? {}, log, caller, {
    large: options.largeFile,
  });
  const mapping = given ?? defaultColumns(opened.header, kind);
  const blocks = mapping[kind] as readonly Blocks[Kind][] | undefined;
  if (blocks === undefined) {
    throw new InputError(
      `${caller} requires a mapping with ${kind}, got one without; add "${kind}": [ … ] to it, as draft writes it`,
    );
  }
  const parts = measurementParts<Blocks[Kind]>(mapping, blocks, opened.header, caller);
  const measurements = collectMeasurements(mapping, parts, opened.rows * parts.length);
  const scan = identifierScan(opened.header, mapping);
  let rows = 0;
  for await (const { table, done } of opened.tables(columnUse(parts, opened.header))) {
    signal?.throwIfAborted();
    scan.add(table);
    rows += table.n;
    for (const part of parts) {
      const context = measurements.add(table, log, part);
      visit({ part, context, ...cellReaders(part, context) });
    }
    onProgress?.({ stage: `reading ${kind}`, done });
  }
  const suspected = scan.finish(mapping.columns.subject, { uniqueCodes: false });
  const allowed = [...(options.allowIdentifiers ?? []), ...codedColumns(mapping)];
  refuseIdentifiers(suspected, allowed, caller, log.file);
  const shared = measurements.finish(log, opened.lineOf);
  if (shared.n === 0) throw nothingLeft(caller, log, rows);
  const { lineOf } = opened;
  const problems =
    lineOf === undefined
      ? log.problems
      : log.problems.map((problem) =>
          problem.row === null || problem.rule === "ragged-row"
            ? problem
            : { ...problem, row: lineOf(problem.row) },
        );
  const finalLog = problemLog(log.file, { strict }, problems);
  measurements.listRarerSigns(shared, finalLog);
  return { shared, mapping, blocks, parts, log: finalLog };
}

function cellReaders(
  { at, block }: MeasurementPart<ReadingBlock | FindingBlock>,
  context: CellContext,
): Pick<PartReader<ReadingBlock>, "has" | "numbers" | "words"> {
  return {
    has: (key) => at.has(key),
    numbers(key, into) {
      const column = at.get(key)!;
      const values = readNumbers(context, column, numberRule(key, block), into);
      return key === "repeat" ? wholeNumbers(context, column, values, "not-whole") : values;
    },
    words(key, list, option, otherwise, into) {
      const count = context.rows.length;
      const column = at.get(key);
      if (typeof option !== "string" && column !== undefined) {
        const codes = into.claim(count);
        return readWords(context, key, column, list, option?.codes, list.indexOf(otherwise), codes);
      }
      const code = list.indexOf(typeof option === "string" ? option : otherwise);
      into.fill(code, count);
      return code;
    },
  };
}

/** A number up to here is no date without signs between year, month and day. */
const belowDates = 19_000_000;

function columnUse(
  parts: readonly MeasurementPart<ReadingBlock | FindingBlock>[],
  header: readonly string[],
): ColumnUse {
  const numeric = new Map<number, readonly [number, number]>();
  const coded = new Set<number>();
  const use = (column: number, { low, high }: { low: number; high: number }) => {
    const [otherLow, otherHigh] = numeric.get(column) ?? [low, belowDates];
    numeric.set(column, [Math.max(low, otherLow), Math.min(high, otherHigh)]);
  };
  for (const { at, ages, block } of parts) {
    for (const name of Object.values(block.flags ?? {})) coded.add(header.indexOf(name));
    for (const { column, type } of ownColumnsOf(block)) {
      const position = header.indexOf(column);
      if (type === "words") coded.add(position);
      else use(position, ownNumbers);
    }
    for (const { at: column, unit } of ages) {
      if (unit === "years-and-months") coded.add(column);
      else use(column, ageRule(unit));
    }
    for (const [key, column] of at) {
      const numberKey = numberKeys.find((name) => name === key);
      if (numberKey === undefined) {
        coded.add(column);
        continue;
      }
      use(column, numberRule(numberKey, block));
    }
  }
  // what is not mapped is only looked through for identifiers
  header.forEach((_, column) => {
    if (!numeric.has(column)) coded.add(column);
  });
  return { numeric, coded };
}

function refuseIdentifiers(
  suspected: readonly SuspectedIdentifier[],
  allowed: readonly string[],
  caller: string,
  file: string,
): void {
  const [first, ...others] = suspected.filter(({ column }) => !allowed.includes(column));
  if (first === undefined) return;
  const more = others.length === 0 ? "" : `, and ${others.length} more`;
  throw new InputError(
    `${caller} requires a table without identifiers, got a column "${first.column}" of ${file} that ` +
      `looks like ${first.kind} (its ${first.because}, ${first.rows} rows${more}); prepare makes a copy ` +
      `without; to read it as it is after a look, name the column: "identifiers": { "allow": ["${first.column}"] } in a ` +
      `protocol, allowIdentifiers: ["${first.column}"] in a call`,
  );
}

function nothingLeft(caller: string, log: ProblemLog, rows: number): InputError {
  if (rows === 0 && log.problems.length === 0) {
    return new InputError(
      `${caller} requires at least one row under the header, got none (${log.file}); export it once more, with its rows`,
    );
  }
  const [most] = problemsByRule(
    log.problems.filter(({ action }) => action === "row-rejected"),
  ).rules;
  const why = most === undefined ? "" : `, most often because ${most.message}`;
  return new InputError(
    `${caller} requires at least one usable row, got ${rows} that were all rejected${why}${wordsFound(log)}`,
  );
}

/** The words that stand where an eye was looked for, where they look like codes and like nobody. */
function wordsFound({ problems }: ProblemLog): string {
  const eyes = problems.filter(({ rule }) => rule === "eye-unknown");
  const words = [...new Set(eyes.map(({ value }) => value))];
  const shown = words.filter((word) => word.length <= 8 && kindOfCell(word) === null).slice(0, 3);
  if (shown.length === 0) return "";
  const list = shown.map((word) => `"${word}"`).join(", ");
  return ` ("${eyes[0].column}" holds ${list}${words.length > shown.length ? ", …" : ""}; ${eyes[0].detail})`;
}
