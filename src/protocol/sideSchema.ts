import type { z } from "zod";
import { schemaAtFirstUse } from "../platform/index.js";
import { publishedRules, quantityToday, type ReferralRule, ruleSchema } from "../rules/index.js";

/** One side of a comparison: what refers by the reading, or what is the condition at the exam. */
export const sideSchema = schemaAtFirstUse((z) => {
  const note = z.string().optional().describe("A remark for the reader; the run ignores it.");

  const limitOnQuantity = z.strictObject({
    quantity: z
      .enum(["M", "J0", "J45"])
      .describe(
        "M is the spherical equivalent; J0 and J45 are the astigmatic components, in dioptres.",
      ),
    relation: z.enum([">", ">=", "<", "<="]),
    limit: z.number().describe("Dioptres, signed; more myopic is more negative."),
    note,
  });

  const publishedRule = z.strictObject({
    published: z
      .enum(Object.keys(publishedRules) as [keyof typeof publishedRules])
      .describe("The id of a published definition."),
    choices: z
      .record(z.string(), z.string().transform(quantityToday))
      .optional()
      .describe("What the definition leaves open, by the name of the choice."),
    note,
  });

  // checked further by conditionMistakes; its type is the rules room's own
  const rule = ruleSchema() as unknown as z.ZodType<ReferralRule, ReferralRule>;
  return z.union([limitOnQuantity, publishedRule, rule]);
});

export type ProtocolSide = z.infer<ReturnType<typeof sideSchema>>;
export type ProtocolLimit = Extract<ProtocolSide, { quantity: unknown }>;

/** Whether a side is a limit on one variable, not a rule. */
export function isLimit(side: ProtocolSide): side is ProtocolLimit {
  return "quantity" in side;
}
