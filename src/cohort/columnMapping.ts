import type { z } from "zod";
import { InputError, namedIssues, schemaAtFirstUse, schemaLibrary } from "../results/index.js";
import {
  corrections,
  cycloplegiaStates,
  measurementStatuses,
  programmeDecisions,
  verificationReasons,
  yesNoWords,
} from "./types.js";

/** A column mapping as JSON: which column of a file holds what, in which unit and sign. */
export const columnsSchema = schemaAtFirstUse((z) => {
  const note = z.string().optional().describe("A remark for the reader; it is ignored.");
  const columnName = z.string().min(1).describe("A column's name, as in the file's header.");

  const codesFor = <T extends string>(words: readonly [T, ...T[]]) =>
    z.record(z.string(), z.enum(words)).describe("What the file writes, and what it stands for.");

  /** One word for every row, or a column of the same key read through a list of codes. */
  const wordOr = <T extends string>(words: readonly [T, ...T[]]) =>
    z.union([z.enum(words), z.strictObject({ codes: codesFor(words) })]).optional();

  const rowColumns = {
    subject: columnName.optional(),
    eye: columnName.optional(),
    age: columnName.optional(),
    day: columnName.optional(),
    site: columnName.optional(),
  };

  const measurementColumns = {
    ...rowColumns,
    sphere: columnName.optional(),
    cylinder: columnName.optional(),
    axis: columnName.optional(),
    prescription: columnName.optional().describe("Sphere, cylinder and axis as one text cell."),
    status: columnName.optional(),
    cycloplegia: columnName.optional(),
  };

  const readingColumns = z.strictObject({
    ...measurementColumns,
    instrument: columnName.optional(),
    repeat: columnName.optional(),
    attempt: columnName.optional(),
    correction: columnName.optional(),
    confidenceScore: columnName.optional(),
    pupilMm: columnName.optional(),
    gazeHorizontal: columnName.optional(),
    gazeVertical: columnName.optional(),
    interpupillaryMm: columnName.optional(),
    programmeDecision: columnName
      .optional()
      .describe("What the programme decided of the child: refer, pass or unable."),
    invited: columnName
      .optional()
      .describe("Whether the child was asked to an exam: referred, or drawn of the passes."),
    came: columnName.optional().describe("Whether the child came to an exam."),
  });

  const findingColumns = z.strictObject({
    ...measurementColumns,
    statedEquivalent: columnName.optional(),
    method: columnName.optional(),
    acuity: columnName.optional(),
    strabismus: columnName.optional(),
    mediaOpacity: columnName.optional(),
    ptosis: columnName.optional(),
    glassesPrescribed: columnName.optional(),
    knownBefore: columnName.optional(),
    verificationReason: columnName.optional(),
    selfPresented: columnName
      .optional()
      .describe("Whether a child who passed came, or would have come, without being drawn."),
  });

  const range = z
    .tuple([z.number(), z.number()])
    .refine(([low, high]) => low < high, "a range goes from low to high");

  const blockOptions = {
    note,
    cylinder: z
      .enum(["minus", "plus", "either"])
      .optional()
      .describe(
        'The sign cylinders are written with; "either" (the default) lists the rarer sign.',
      ),
    status: z.strictObject({ codes: codesFor(measurementStatuses) }).optional(),
    marks: codesFor(measurementStatuses)
      .optional()
      .describe("Words the file writes in place of a sphere, such as those for out of range."),
    whenEmpty: z
      .enum(["not-attempted", "unreadable"])
      .optional()
      .describe("What it means when no cell of a measurement is filled (not-attempted)."),
    range: range.optional().describe("The instrument's range of sphere, in dioptres."),
    cycloplegia: wordOr(cycloplegiaStates),
    vertexMm: z.number().min(0).max(30).nullable().optional(),
    flags: z
      .record(z.string().min(1), columnName)
      .optional()
      .describe("Columns of your own, by your own labels; their words are kept as they stand."),
  };

  const readingBlock = z.strictObject({
    ...blockOptions,
    instrument: z.string().min(1).optional().describe("Your own label of the instrument."),
    correction: wordOr(corrections),
    attempt: wordOr(["first", "final"]),
    programmeDecision: wordOr(programmeDecisions),
    invited: wordOr(yesNoWords),
    came: wordOr(yesNoWords),
    confidenceScale: range.optional(),
    workingDistanceMm: z.number().positive().nullable().optional(),
    columns: readingColumns.optional(),
    right: readingColumns.optional(),
    left: readingColumns.optional(),
  });

  const findingBlock = z.strictObject({
    ...blockOptions,
    method: wordOr(["retinoscopy", "autorefraction", "subjective", "unknown"]),
    removeWorkingDistanceMm: z
      .number()
      .positive()
      .optional()
      .describe(
        "Set where retinoscopy spheres still contain the working distance; needs a method.",
      ),
    acuity: z
      .enum(["logMAR", "snellen-feet", "snellen-metres", "decimal"])
      .optional()
      .describe(
        "How acuity is written; the Snellen forms are fractions over 20 or 6, or their denominators.",
      ),
    strabismus: wordOr(yesNoWords),
    mediaOpacity: wordOr(yesNoWords),
    ptosis: wordOr(yesNoWords),
    glassesPrescribed: wordOr(yesNoWords),
    knownBefore: wordOr(yesNoWords),
    verificationReason: wordOr(verificationReasons),
    selfPresented: wordOr(yesNoWords),
    columns: findingColumns.optional(),
    right: findingColumns.optional(),
    left: findingColumns.optional(),
  });

  return z.strictObject({
    $schema: z.string().optional(),
    kind: z.literal("columns"),
    version: z.literal(1),
    note,
    text: z
      .strictObject({
        delimiter: z.string().length(1).optional(),
        decimal: z.enum([".", ","]).optional(),
        encoding: z.enum(["utf-8", "utf-16le", "utf-16be", "latin1"]).optional(),
        sheet: z.union([z.string(), z.number().int().min(1)]).optional(),
      })
      .optional(),
    accepted: z
      .record(z.string(), z.string().min(1))
      .optional()
      .describe("Rules that this file may break as often as it does, each with the reason."),
    missing: z.array(z.string()).optional().describe("Codes that mean missing, such as 888."),
    eyes: z
      .strictObject({ right: z.array(z.string()).min(1), left: z.array(z.string()).min(1) })
      .optional()
      .describe("What the eye column writes; OD, R, right and OS, L, left by default."),
    age: z
      .enum(["years", "decimal-years", "months"])
      .optional()
      .describe('Unit of the age column; "years" are completed years and stay so.'),
    columns: z.strictObject({ ...rowColumns, subject: columnName }),
    readings: z.array(readingBlock).min(1).optional(),
    findings: z.array(findingBlock).min(1).optional(),
  });
});

/** A column mapping; see `defineColumns`. */
export type ColumnMapping = z.input<ReturnType<typeof columnsSchema>>;
export type ReadingBlock = NonNullable<ColumnMapping["readings"]>[number];
export type FindingBlock = NonNullable<ColumnMapping["findings"]>[number];

/**
 * Checks a column mapping and returns it: one mapping serves both `readReadings` (its `readings`
 * blocks) and `readFindings` (its `findings` blocks). A block with `columns` is one measurement a
 * row, whose eye stands in the eye column; a block with `right` and `left` is both eyes in one row.
 *
 * @throws InputError that names every unknown key and wrong value
 * @example
 * defineColumns({ kind: "columns", version: 1, columns: { subject: "id" } }).version // => 1
 */
export function defineColumns(json: unknown): ColumnMapping {
  const parsed = columnsSchema().safeParse(json);
  if (!parsed.success) {
    const issues = parsed.error.issues
      .flatMap((issue) => namedIssues(issue, columnsJsonSchema))
      .map(({ path, message }) => `${path.join(".") || "the mapping"}: ${message}`);
    throw new InputError(`defineColumns requires a valid column mapping, got ${issues.join("; ")}`);
  }
  const { age, columns, readings = [], findings = [] } = parsed.data;
  const blocks = [
    ...readings.map((block, index) => ({ block, path: `readings.${index}` })),
    ...findings.map((block, index) => ({ block, path: `findings.${index}` })),
  ];
  for (const { block, path } of blocks) {
    const perEye = block.right !== undefined || block.left !== undefined;
    if (perEye === (block.columns !== undefined)) {
      throw new InputError(
        `defineColumns requires either columns or right and left in ${path}, got ${perEye ? "both" : "neither"}; ` +
          "columns where a row is one eye, right and left where a row holds both",
      );
    }
    for (const part of [block.columns, block.right, block.left]) {
      if (part === undefined) continue;
      if (!perEye && part.eye === undefined && columns.eye === undefined) {
        throw new InputError(
          `defineColumns requires an eye column for ${path}, got none; add "eye" to its columns, or name right and left`,
        );
      }
      if ((part.age ?? columns.age) !== undefined && age === undefined) {
        throw new InputError(
          'defineColumns requires age: "years" | "decimal-years" | "months", got none; say which of them the age column holds',
        );
      }
      const distance = "removeWorkingDistanceMm" in block && block.removeWorkingDistanceMm;
      if (distance && !("method" in block) && !("method" in part)) {
        throw new InputError(
          `defineColumns requires a method beside removeWorkingDistanceMm in ${path}, got none; ` +
            'it is taken off retinoscopy only: add "method", or leave the distance out',
        );
      }
      if (part.prescription !== undefined && part.sphere !== undefined) {
        throw new InputError(
          `defineColumns requires a prescription or a sphere in ${path}, got both; ` +
            "leave out the one that the study should not read",
        );
      }
    }
  }
  return parsed.data;
}

/**
 * JSON Schema of a column mapping, for editors that complete and check while one types.
 *
 * @example
 * Object.keys(columnsJsonSchema().properties).includes("readings") // => true
 */
export function columnsJsonSchema(): { readonly [key: string]: unknown } {
  return schemaLibrary().toJSONSchema(columnsSchema(), { io: "input", unrepresentable: "any" });
}
