import type { z } from "zod";
import { schemaAtFirstUse, schemaLibrary } from "../platform/index.js";
import { eyesInCellWords } from "../refraction/index.js";
import {
  corrections,
  cycloplegiaStates,
  measurementStatuses,
  programmeDecisions,
  verificationReasons,
  yesNoWords,
} from "./types.js";

/** Units of an age column: completed years stay years; "years-and-months" is written 8;11 or 8:11. */
export const ageUnits = ["years", "decimal-years", "months", "years-and-months"] as const;
export type AgeUnit = (typeof ageUnits)[number];

/** What codes for missing may be said of, beside single columns. */
const quantities = [
  ...["subject", "age", "day", "site", "sphere", "cylinder", "axis", "prescription"],
  ...["statedEquivalent", "instrument", "repeat", "confidenceScore", "pupilMm", "gazeHorizontal"],
  ...["gazeVertical", "interpupillaryMm", "acuity"],
] as const;

/** A column mapping as JSON: which column of a file holds what, in which unit and sign. */
export const columnsSchema = schemaAtFirstUse((z) => {
  const note = z.string().optional().describe("A remark for the reader; it is ignored.");
  const columnName = z.string().min(1).describe("A column's name, as in the file's header.");
  const code = z
    .union([z.string(), z.number()])
    .describe('A word, or a number however it is written: 1, "1" and "1.0" are one code.');

  const codesFor = <T extends string>(words: readonly [T, ...T[]]) =>
    z.record(z.string(), z.enum(words)).describe("What the file writes, and what it stands for.");

  /** One word for every row, or a column of the same key read through a list of codes. */
  const wordOr = <T extends string>(words: readonly [T, ...T[]]) =>
    z.union([z.enum(words), z.strictObject({ codes: codesFor(words) })]).optional();

  const ageWithUnit = z.strictObject({ column: columnName, unit: z.enum(ageUnits) });
  const rowColumns = {
    subject: columnName.optional(),
    eye: columnName.optional(),
    age: z
      .union([columnName, ageWithUnit, z.array(z.union([columnName, ageWithUnit])).min(1)])
      .optional()
      .describe("The age column, or several in order: the first that is filled counts."),
    day: columnName.optional(),
    site: columnName.optional(),
  };

  const measurementColumns = {
    ...rowColumns,
    sphere: columnName.optional(),
    cylinder: columnName.optional(),
    axis: columnName.optional(),
    prescription: columnName.optional().describe("Sphere, cylinder and axis as one text cell."),
    statedEquivalent: columnName
      .optional()
      .describe("The spherical equivalent as the file states it, in dioptres."),
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
    eyesInCell: z
      .enum(eyesInCellWords)
      .optional()
      .describe(
        "Where right and left name one column of prescriptions: each marked (R, L, OD, OS), or in which order they stand.",
      ),
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
    own: z
      .record(
        z.string().min(1),
        z.union([
          columnName,
          z.strictObject({
            column: columnName,
            type: z.enum(["words", "number"]).optional().describe('What the cells are ("words").'),
            coded: z
              .boolean()
              .optional()
              .describe(
                "Words become numbers in the order of the file, as names of examiners must.",
              ),
          }),
        ]),
      )
      .optional()
      .describe(
        "Columns of your own, by your own labels, such as examiner, sex, weight, stratum: carried to the cohort and its pairs.",
      ),
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
    audience: z
      .enum(["journal", "public"])
      .optional()
      .describe(
        'Who may see every eye of these data: "journal" where they are openly published or invented. Left out, figures and tables are for the public.',
      ),
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
    missing: z
      .union([
        z.array(code),
        z.strictObject({
          everywhere: z.array(code).optional(),
          columns: z.record(z.string().min(1), z.array(code).min(1)).optional(),
          quantities: z.partialRecord(z.enum(quantities), z.array(code).min(1)).optional(),
        }),
      ])
      .optional()
      .describe(
        "Codes that mean missing: of one column, of what a column holds (quantities), or everywhere. In a list for everywhere, a number counts only where it cannot be a value: 888 is no sphere, 88 is an axis.",
      ),
    fillDown: z
      .array(z.enum(["subject", "age", "day", "site"]))
      .min(1)
      .optional()
      .describe(
        "What the file writes on the first of several rows only: an empty subject is the one above it; age, day and site only within a subject.",
      ),
    eyes: z
      .strictObject({ right: z.array(code).min(1), left: z.array(code).min(1) })
      .optional()
      .describe("What the eye column writes; OD, R, right and OS, L, left by default."),
    age: z
      .enum(ageUnits)
      .optional()
      .describe(
        'Unit of age columns that do not say their own; "years" are completed years and stay so, "years-and-months" is written 8;11.',
      ),
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
 * JSON Schema of a column mapping, for editors that complete and check while one types.
 *
 * @example
 * Object.keys(columnsJsonSchema().properties).includes("readings") // => true
 */
export function columnsJsonSchema(): { readonly [key: string]: unknown } {
  return schemaLibrary().toJSONSchema(columnsSchema(), { io: "input", unrepresentable: "any" });
}
