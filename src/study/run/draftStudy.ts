import {
  type CodedTable,
  type ColumnMapping,
  columnsJsonSchema,
  defineColumns,
  readCoded,
} from "../../cohort/index.js";
import { dirname, join, readSmallFile, relative, resolve } from "../../platform/index.js";
import {
  type DetectedFile,
  detectFiles,
  type LeftOut,
  proposeMapping,
} from "../../prepare/index.js";
import { protocolJsonSchema } from "../../protocol/index.js";
import { InputError } from "../../results/index.js";

/** What `draftStudy` proposes, and what it could not. */
export interface StudyDraft {
  readonly kind: "study-draft";
  /** The files to be written, as JSON by name. */
  readonly files: { readonly [file: string]: object };
  /** The mapping that lay beside the readings and was taken over; null where one is proposed. */
  readonly takenOver: string | null;
  /** Columns that the mapping does not read, and why. */
  readonly leftOut: readonly LeftOut[];
  /** What was taken for granted and a person should look at. */
  readonly look: readonly string[];
}

/**
 * A starting protocol, its column mapping and their schemas. Columns are recognised as `prepareFiles`
 * does it, by names, cells and forms together; a `columns.json` that lies beside the readings is taken over.
 * Every choice carries a note that asks for a look: nothing is decided.
 *
 * @param sources CSV, TSV, XLSX or Parquet files; `folder` is where the protocol will lie
 * @throws InputError when a file cannot be read, or no column can be the subject
 */
export async function draftStudy(sources: {
  readonly readings: string;
  readonly findings: string;
  readonly folder: string;
}): Promise<StudyDraft> {
  const beside = join(dirname(sources.readings), "columns.json");
  const existing = await mappingAt(beside);
  const text = existing?.text ?? {};
  const readings = await tableOf(sources.readings, text);
  const one = resolve(sources.readings) === resolve(sources.findings);
  const findings = one ? readings : await tableOf(sources.findings, text);
  const detected = one
    ? detectFiles([readings.table], [{ holds: ["readings", "findings"] }])
    : detectFiles(
        [readings.table, findings.table],
        [{ holds: ["readings"] }, { holds: ["findings"] }],
      );
  const encoding = readings.encoding ?? findings.encoding;
  const { mapping, leftOut, look } =
    existing === null
      ? proposeMapping(detected, encoding === undefined ? undefined : { encoding })
      : { mapping: existing, leftOut: [], look: [] };
  requireMeasurements(mapping, sources);
  const { instrument, cycloplegia, correction } = indexTestOf(mapping, detected);
  const from = (path: string) => relative(resolve(sources.folder), resolve(path));
  const files = {
    "columns.json": { $schema: "./columns.schema.json", ...mapping },
    "columns.schema.json": columnsJsonSchema(),
    "protocol.json": {
      $schema: "./protocol.schema.json",
      kind: "protocol",
      version: 1,
      title: "To be written",
      question: "To be written: the question in one line",
      audience: "public",
      sources: {
        readings: { file: from(sources.readings), columns: "columns.json" },
        findings: { file: from(sources.findings), columns: "columns.json" },
        note: "Files without identifiers; run meridional audit on each first.",
      },
      indexTest: {
        instrument,
        cycloplegia,
        ...(correction === null ? {} : { correction }),
        description: "to be written: kind of instrument, settings, distance",
        repeats: "first",
        note: `Which reading of an eye counts: first, last or highest-confidence.${
          correction === null
            ? ""
            : " Readings with and without glasses are not pooled: those with another correction than this one are left out, and counted."
        }`,
      },
      referenceStandard: {
        equivalent: statedAlone(mapping) ? "stated" : "computed",
        description: "to be written: kind of exam, drops, who examined",
        note: 'An exam without cycloplegia is no reference for hyperopia: "cycloplegia": ["full"] keeps such exams out, and counts them.',
      },
      linkage: {
        note: "daysBetween, such as [0, 180], keeps exams within a window of days; exam: first, last or nearest of several.",
      },
      eligibility: { note: "ageMonths or ageYears, from (included) to (left out)." },
      unit: "child",
      eye: "worse",
      conditions: [
        {
          id: "main",
          title: "To be written: the target condition",
          definition: "own",
          role: "confirmatory",
          target: {
            quantity: "M",
            relation: "<=",
            limit: -1,
            note: 'The condition at the exam; this number is only a place to start. In place of a limit on one variable: a published rule, { "published": "aapos-2013", "choices": { ... } }, or an own rule of several limits, { "kind": "rule", ... }; then the unit is the child.',
          },
          referWhen: {
            quantity: "M",
            relation: "<=",
            limit: -1,
            note: "The referral limit, fixed before the data are seen; a rule of the reading may stand here as well.",
          },
        },
      ],
      subgroups: [],
      undecidable: "refer",
      verification: "partial",
      ...programmeOf(mapping),
      sampling: "cohort",
      acceptableDifference: 0.5,
      level: 0.95,
      seed: 1,
      replicates: 2000,
      note: 'undecidable: how a child without a decision is counted (refer, pass, exclude). verification: complete, partial or none of the passes were examined; verificationStrata, such as { "by": "site" }, where they were drawn within groups. eye: right, left, both (unit eye), worse (unit child) or random, one eye a child drawn by the seed. outputs: html, markdown, word, pdf, by default all. sampling: "enriched" where cases are over-represented, as in a clinic. Write every choice down before the data are seen.',
    },
    "protocol.schema.json": protocolJsonSchema(),
  };
  return {
    kind: "study-draft",
    files,
    takenOver: existing === null ? null : beside,
    leftOut,
    look,
  };
}

/** The mapping in a file; null where there is no such file. */
async function mappingAt(path: string): Promise<ColumnMapping | null> {
  const text = await readSmallFile(path, "draftStudy");
  if (text === null) return null;
  try {
    return defineColumns(JSON.parse(text));
  } catch (error) {
    throw new InputError(
      `draftStudy requires a valid mapping beside the readings, got ${path}: ${(error as Error).message}`,
    );
  }
}

async function tableOf(
  path: string,
  text: NonNullable<ColumnMapping["text"]>,
): Promise<{ table: CodedTable; encoding?: "latin1" }> {
  try {
    return { table: await readCoded(path, text, "draftStudy") };
  } catch (error) {
    if (!(error instanceof InputError && /or a declared encoding/.test(error.message))) throw error;
    const encoding = "latin1" as const;
    return { table: await readCoded(path, { ...text, encoding }, "draftStudy"), encoding };
  }
}

function requireMeasurements(
  { readings, findings, columns }: ColumnMapping,
  sources: { readonly readings: string; readonly findings: string },
): void {
  for (const [kind, found] of Object.entries({ readings, findings })) {
    if (found !== undefined) continue;
    throw new InputError(
      `draftStudy requires columns of sphere, or of clinic notation, and of the eye for the ${kind}, got none that it ` +
        `recognises in ${sources[kind as "readings" | "findings"]}; name them in a columns.json beside the readings`,
    );
  }
  if (columns.subject === "") {
    throw new InputError(
      "draftStudy requires a column that says which child a row belongs to, got none",
    );
  }
}

/** The first block's instrument and drops; the instrument most rows name, where a column does. */
function indexTestOf(mapping: ColumnMapping, detected: readonly DetectedFile[]) {
  const [block] = mapping.readings ?? [];
  const column = block?.columns?.instrument ?? block?.right?.instrument ?? mapping.columns.subject;
  const cells = detected.flatMap(({ columns }) => columns).find((one) => one.column === column)
    ?.facts.cells;
  const [most] = [...(cells ?? [])].toSorted((one, other) => other[1] - one[1]);
  const { cycloplegia, correction } = block ?? {};
  const worn = new Set(Object.values(typeof correction === "object" ? correction.codes : {}));
  return {
    instrument: block?.instrument ?? most?.[0] ?? "instrument",
    cycloplegia: typeof cycloplegia === "string" ? cycloplegia : "none",
    correction: worn.size > 1 ? (worn.has("none") ? "none" : [...worn][0]) : null,
  };
}

/** Where a column says what the programme decided, the protocol says so, and asks for what no column says. */
function programmeOf({ readings = [] }: ColumnMapping): object {
  const column = readings
    .flatMap(({ columns, right, left }) => [columns, right, left])
    .find((part) => part?.programmeDecision !== undefined)?.programmeDecision;
  if (column === undefined) return {};
  const note =
    `What the programme decided is read from "${column}". passesDrawn, such as 0.1, is the share of those who passed ` +
    "that was drawn at random for an exam; without it nobody is taken to have been drawn.";
  return { programme: { note } };
}

function statedAlone({ findings = [] }: ColumnMapping): boolean {
  return findings.every((block) =>
    [block.columns, block.right, block.left].every(
      (part) =>
        part === undefined || (part.sphere === undefined && part.prescription === undefined),
    ),
  );
}
