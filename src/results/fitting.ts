import type { z } from "zod";
import { InputError } from "./inputError.js";
import { namedIssues } from "./namedIssues.js";

/**
 * What a file's JSON holds, if it fits the schema.
 *
 * @param caller the function that speaks
 * @param wanted in the message, such as "a notebook in first.ipynb"
 * @throws InputError with the first five places where it does not fit
 */
export function fitting<Value>(
  {
    schema,
    caller,
    wanted,
    cure,
  }: {
    readonly schema: z.ZodType<Value>;
    readonly caller: string;
    readonly wanted: string;
    /** What would help, behind the places. */
    readonly cure?: string;
  },
  json: unknown,
): Value {
  const parsed = schema.safeParse(json);
  if (parsed.success) return parsed.data;
  const issues = parsed.error.issues.flatMap((issue) => namedIssues(issue));
  const shown = issues
    .slice(0, 5)
    .map(({ path, message }) => `${path.join(".") || "the whole"} ${message}`);
  const more = issues.length > shown.length ? `, and ${issues.length - shown.length} more` : "";
  throw new InputError(
    `${caller} requires ${wanted}, got ${shown.join("; ")}${more}${cure === undefined ? "" : `; ${cure}`}`,
  );
}
