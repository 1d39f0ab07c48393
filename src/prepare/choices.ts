import type { z } from "zod";
import { dateOrders } from "../cohort/index.js";
import { schemaAtFirstUse, schemaLibrary } from "../platform/index.js";
import { eyesInCellWords } from "../refraction/index.js";
import { InputError, namedIssues } from "../results/index.js";
import { ageUnits } from "./detect/details.js";
import { roles } from "./detect/roles.js";
import { ignorable } from "./ids/normaliseId.js";

/** What becomes of a column. */
export const fates = ["keep", "drop", "code", "number", "day", "age"] as const;
export type Fate = (typeof fates)[number];

const choicesSchema = schemaAtFirstUse((z) => {
  const note = z
    .union([z.string(), z.array(z.string())])
    .optional()
    .describe("What was seen or is asked; it is ignored.");
  const open = "null stands for an open question.";
  const column = z.strictObject({
    fate: z
      .enum(fates)
      .nullable()
      .optional()
      .describe(
        `keep as it is; drop; code (Site 01, Site 02); number (the study number of the child); day (days from the child's first screening); age (completed months). ${open}`,
      ),
    is: z.enum(roles).nullable().optional().describe(`What the column is. ${open}`),
    eye: z.enum(["right", "left"]).nullable().optional().describe(open),
    eyes: z
      .enum(eyesInCellWords)
      .nullable()
      .optional()
      .describe(`How the prescriptions of both eyes stand in one cell. ${open}`),
    block: z.string().optional().describe("Any word that columns of one measurement share."),
    of: z.enum(["readings", "findings"]).nullable().optional(),
    order: z.enum(dateOrders).nullable().optional().describe(`How dates are written. ${open}`),
    century: z
      .union([z.literal(1900), z.literal(2000)])
      .nullable()
      .optional()
      .describe(`What is added to years of two digits. ${open}`),
    unit: z
      .enum(ageUnits)
      .nullable()
      .optional()
      .describe(
        `The unit of ages; years-or-months: numbers up to 19 are years, and from 24 on months. ${open}`,
      ),
    notation: z
      .enum(["logMAR", "snellen-feet", "snellen-metres", "decimal"])
      .nullable()
      .optional()
      .describe(`How acuity is written. ${open}`),
    loses: z
      .number()
      .int()
      .min(0)
      .optional()
      .describe(
        "How many filled cells may be lost: dropped, or emptied because they cannot be read.",
      ),
    note,
  });
  const file = z.strictObject({
    file: z.string().min(1).describe("The file's name, without its folder."),
    as: z
      .string()
      .regex(
        /^[\w-]+\.csv$/,
        "a study file is named with letters, digits and hyphens, ending in .csv",
      )
      .describe("The name of the study file that is written."),
    holds: z
      .array(z.enum(["readings", "findings"]))
      .nullable()
      .describe(`What is measured in it; [] where it only says who the children are. ${open}`),
    encoding: z.enum(["utf-8", "utf-16le", "utf-16be", "latin1"]).optional(),
    delimiter: z.string().length(1).optional(),
    sheet: z
      .string()
      .nullable()
      .optional()
      .describe(`The sheet of a workbook with several. ${open}`),
    rowsLeftOut: z
      .number()
      .int()
      .min(0)
      .optional()
      .describe("Rows of another width than the header, or without a child, that may be left out."),
    columns: z.record(z.string(), column),
    note,
  });
  return z.strictObject({
    $schema: z.string().optional(),
    kind: z.literal("preparation-choices"),
    version: z.literal(1),
    note,
    ids: z
      .strictObject({
        ignore: z
          .array(z.enum(ignorable))
          .nullable()
          .describe(`What is ignored when ids are compared; [] compares them as written. ${open}`),
        wouldMatch: z
          .number()
          .int()
          .min(0)
          .optional()
          .describe(
            "The most children that any way of comparing matched when this was answered; more are asked anew.",
          ),
        note,
      })
      .optional(),
    period: z
      .strictObject({
        every: z
          .enum(["none", "year", "half-year", "school-year"])
          .describe("A calendar period that is kept as a column when the dates go."),
        schoolYearStarts: z
          .number()
          .int()
          .min(1)
          .max(12)
          .optional()
          .describe("The month, 1 to 12."),
        note,
      })
      .optional(),
    files: z.array(file).min(1),
  });
});

/** The answers of a person, as `prepare.json` holds them. */
export type PreparationChoices = z.infer<ReturnType<typeof choicesSchema>>;
export type FileChoices = PreparationChoices["files"][number];
export type ColumnChoices = FileChoices["columns"][string];

/**
 * Checks answers as `prepareFiles` takes them.
 *
 * @throws InputError that names every unknown key and wrong value
 */
export function defineChoices(json: unknown): PreparationChoices {
  const parsed = choicesSchema().safeParse(renamed(json, proto, standIn));
  if (parsed.success) return renamed(parsed.data, standIn, proto) as PreparationChoices;
  const issues = parsed.error.issues
    .flatMap((issue) => namedIssues(issue, choicesJsonSchema, json))
    .map(({ path, message }) => `${placeOf(json, path)}: ${message}`);
  throw new InputError(`prepareFiles requires valid choices, got ${issues.join("; ")}`);
}

/** "exam.csv > Seen on > order" for a place in the list of files; others by their keys. */
function placeOf(json: unknown, path: readonly PropertyKey[]): string {
  const [list, at, columns, ...rest] = path;
  const files = (json as { files?: { file?: unknown }[] } | null | undefined)?.files;
  const name = list === "files" && typeof at === "number" ? files?.[at]?.file : undefined;
  if (typeof name !== "string") return path.map(String).join(".") || "the whole";
  const keys = columns === "columns" ? rest : [columns, ...rest].filter((key) => key !== undefined);
  return [name, ...keys.map(String)].join(" > ");
}

// a column may have the one name that the schema's record leaves out
const proto = "__proto__";
const standIn = "column __proto__";

/** The choices with another name for a column; anything that is no choices stays as it is. */
function renamed(json: unknown, from: string, to: string): unknown {
  const files = (json as { files?: unknown } | null | undefined)?.files;
  if (!Array.isArray(files)) return json;
  const change = (file: unknown) => {
    const columns = (file as { columns?: unknown } | null | undefined)?.columns;
    if (typeof columns !== "object" || columns === null || !Object.hasOwn(columns, from))
      return file;
    const entries = Object.entries(columns).map(([name, one]) => [name === from ? to : name, one]);
    return { ...(file as object), columns: Object.fromEntries(entries) };
  };
  return { ...(json as object), files: files.map(change) };
}

/** For an editor that completes the keys of `prepare.json`. */
export function choicesJsonSchema(): object {
  return schemaLibrary().toJSONSchema(choicesSchema(), { io: "input" });
}
