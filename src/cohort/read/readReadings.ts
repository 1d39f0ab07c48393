import type { ReadingBlock } from "../columnMapping.js";
import {
  type Coded,
  corrections,
  cycloplegiaStates,
  programmeDecisions,
  type Readings,
  yesNoWords,
} from "../types.js";
import { freeFlags } from "./freeFlags.js";
import { growableBytes, growableCodes, optionalNumbers } from "./growable.js";
import { inFileOrder, problemsInFileOrder } from "./inFileOrder.js";
import { labelList, labelTranslator } from "./labelList.js";
import { nothingMissing } from "./missingCodes.js";
import { ownColumns } from "./ownColumns.js";
import { type PartReader, type ReadOptions, readBlocks } from "./readBlocks.js";
import { sharedPlane } from "./sharedPlane.js";
import type { Source } from "./source.js";
import { checkReadings, checkStatedEquivalents } from "./suspicions.js";

const attempts = ["first", "final"] as const;
const covariates = [
  "statedEquivalent",
  "repeat",
  "confidenceScore",
  "pupilMm",
  "gazeHorizontal",
  "gazeVertical",
  "interpupillaryMm",
] as const;

/**
 * Reads screening readings from a file or from rows in memory into columns. Every measurement of
 * every eye is kept with its status; each cell that was rejected, altered or looks wrong is listed
 * in `problems`. Nothing is repaired. Sphere and cylinder in dioptres, axis in degrees; cylinders
 * keep the sign they were written with.
 *
 * @param source path of a CSV, TSV (gzipped too), XLSX or Parquet file, or rows as objects
 * @throws InputError for a source that cannot be read or a mapping that does not fit it
 * @example
 * (await readReadings([{ subject: "a", eye: "OD", sphere: -1, cylinder: 0, axis: 0 }])).n // => 1
 */
export async function readReadings(source: Source, options: ReadOptions = {}): Promise<Readings> {
  const instrument = growableCodes();
  const instruments = labelList();
  let noInstrument = nothingMissing;
  const instrumentCodes = labelTranslator((label) =>
    instruments.codeOf(noInstrument.says(label) ? "" : label),
  );
  const correction = growableBytes();
  const cycloplegia = growableBytes();
  const attempt = growableBytes();
  let anyAttempt = false;
  const decided = decisionColumns();
  const free = freeFlags("readReadings");
  const own = ownColumns("readReadings");
  const numbers = covariates.map((key) => ({ key, values: optionalNumbers() }));

  const read = await readBlocks(source, options, "readings", ({ part, context, ...cells }) => {
    const { block, at } = part;
    const { rows, table } = context;
    const column = at.get("instrument");
    if (block.instrument !== undefined || column === undefined) {
      instrument.fill(instruments.codeOf(block.instrument ?? "instrument"), rows.length);
    } else {
      const { codes, labels } = table.coded(column);
      noInstrument = context.missing("instrument", column, "names");
      const codeOf = instrumentCodes(labels);
      const into = instrument.claim(rows.length);
      for (let k = 0; k < rows.length; k++) into[k] = codeOf[codes[rows[k]]];
    }
    cells.words("correction", corrections, block.correction, "unknown", correction);
    cells.words("cycloplegia", cycloplegiaStates, block.cycloplegia, "unknown", cycloplegia);
    anyAttempt ||= block.attempt !== undefined || at.has("attempt");
    cells.words("attempt", attempts, block.attempt, "final", attempt);
    decided.add({ part, words: cells.words });
    free.add(part, context);
    own.add(part, context);
    for (const { key, values } of numbers) {
      if (cells.has(key)) cells.numbers(key, values.claim(rows.length));
      else values.skip(rows.length);
    }
  });

  const { shared, blocks, parts, log } = read;
  const covariate = (key: (typeof covariates)[number]) =>
    numbers.find((entry) => entry.key === key)?.values.finish() ?? null;
  const distances = new Set(blocks.map(({ workingDistanceMm }) => workingDistanceMm ?? null));
  const readings: Readings = inFileOrder({
    kind: "readings",
    ...shared,
    instrument: { codes: instrument.finish(), labels: instruments.labels },
    statedEquivalent: covariate("statedEquivalent"),
    repeat: covariate("repeat"),
    attempt: anyAttempt ? { codes: attempt.finish(), labels: attempts } : null,
    correction: { codes: correction.finish(), labels: corrections },
    cycloplegia: { codes: cycloplegia.finish(), labels: cycloplegiaStates },
    confidenceScore: covariate("confidenceScore"),
    pupilMm: covariate("pupilMm"),
    gazeHorizontal: covariate("gazeHorizontal"),
    gazeVertical: covariate("gazeVertical"),
    interpupillaryMm: covariate("interpupillaryMm"),
    ...decided.finish(),
    flags: free.finish(),
    own: own.finish(),
    workingDistanceMm: distances.size === 1 ? [...distances][0] : null,
    vertexMm: sharedPlane(blocks, log),
  });
  const columnOf = (key: string) =>
    parts.map(({ names }) => names.get(key)).find((name) => name !== undefined) ?? null;
  checkStatedEquivalents(readings, () => columnOf("statedEquivalent"), log);
  checkReadings(readings, columnOf("programmeDecision"), log);
  return { ...readings, problems: problemsInFileOrder(log.problems) };
}

const decisionWords = {
  programmeDecision: programmeDecisions,
  invited: yesNoWords,
  came: yesNoWords,
} as const;
type DecisionKey = keyof typeof decisionWords;

/** What the programme decided and who came; a column that no block has is null. */
function decisionColumns() {
  const keys = Object.keys(decisionWords) as DecisionKey[];
  const columns = keys.map((key) => ({ key, codes: growableBytes(), present: false }));
  return {
    add({ part, words }: Pick<PartReader<ReadingBlock>, "part" | "words">): void {
      for (const column of columns) {
        const { key, codes } = column;
        column.present ||= part.at.has(key) || part.block[key] !== undefined;
        const list: readonly string[] = decisionWords[key];
        words(key, list, part.block[key], "unknown", codes);
      }
    },
    finish: () =>
      Object.fromEntries(
        columns.map(({ key, codes, present }) => [
          key,
          present ? { codes: codes.finish(), labels: decisionWords[key] } : null,
        ]),
      ) as { [Key in DecisionKey]: Coded<(typeof decisionWords)[Key][number]> | null },
  };
}
