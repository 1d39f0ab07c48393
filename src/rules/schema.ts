import type { z } from "zod";
import { schemaAtFirstUse } from "../platform/index.js";
import { criteria } from "./criteria.js";
import { formerM, quantityToday } from "./quantityToday.js";
import type { Expression, RuleCriterion } from "./types.js";

/** The shape of a rule; what the words mean together is checked by `defineRule`. */
export const ruleSchema = schemaAtFirstUse((z) => {
  const note = z.string().optional();
  const id = z.string().regex(/^[a-z0-9-]+$/, "an id has small letters, digits and hyphens only");
  const criterionNames = Object.keys(criteria) as [RuleCriterion, ...RuleCriterion[]];

  const limitOfRule = z.strictObject({
    criterion: z.enum(criterionNames),
    quantity: z
      .enum([
        "sphere",
        "mostPositiveMeridian",
        "mostNegativeMeridian",
        "M",
        formerM,
        "cylinder",
        "greatestMeridian",
        "vector",
        "J0",
        "J45",
        "pupilMm",
        "horizontal",
        "vertical",
        "combined",
        "logMAR",
      ])
      .transform(quantityToday)
      .optional(),
    eye: z
      .enum(["either", "both", "worse", "lesser-error", "greatest-error", "right", "left", "pair"])
      .optional(),
    relation: z.enum([">", ">=", "<", "<="]).optional(),
    limit: z.number().optional(),
    range: z
      .strictObject({
        ">": z.number().optional(),
        ">=": z.number().optional(),
        "<": z.number().optional(),
        "<=": z.number().optional(),
      })
      .optional(),
    is: z.boolean().optional(),
    degreesOff: z.number().gt(0).lt(45).optional(),
    mirror: z.boolean().optional(),
    note,
  });

  /** Limits and their combinations; a list first, which no other shape comes near. */
  const expression: z.ZodType<Expression> = z.lazy(() =>
    z.union([members, limitOfRule, anyOf, allOf, not, subRule]),
  );

  const members = z.array(expression).min(1, "at least one member");
  const anyOf = z.strictObject({ anyOf: members, note });
  const allOf = z.strictObject({ allOf: members, note });
  const not = z.strictObject({ not: expression, note });
  const subRule = z.strictObject({ subRule: z.string(), note });

  const months = z.int().min(0);

  return z.strictObject({
    kind: z.literal("rule"),
    id,
    title: z.string().min(1),
    definition: z.enum(["own", "published"]),
    citation: z.string().min(1).optional(),
    appliesTo: z.enum(["reading", "finding"]),
    bands: z
      .array(
        z.strictObject({
          ageMonths: z.tuple([months, months.nullable()]),
          referWhen: expression,
          note,
        }),
      )
      .min(1)
      .optional(),
    referWhen: expression.optional(),
    subRules: z.record(z.string().regex(/^[a-zA-Z0-9-]+$/), expression).optional(),
    chosen: z.array(z.string()).optional(),
    notIncluded: z.array(z.string()).optional(),
    note,
  });
});
