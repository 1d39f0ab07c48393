import type { z } from "zod";
import { schemaAtFirstUse } from "../results/schemaAtFirstUse.js";

/** Built at first use. */
export const protocolSchema = schemaAtFirstUse((z) => {
  const note = z.string().optional().describe("A remark for the reader; the run ignores it.");

  const relation = z.enum([">", ">=", "<", "<="]);

  const quantity = z
    .enum(["M", "J0", "J45"])
    .describe(
      "M is the spherical equivalent; J0 and J45 are the astigmatic components, in dioptres.",
    );

  const limitOnQuantity = z.strictObject({
    quantity,
    relation,
    limit: z.number().describe("Dioptres, signed; more myopic is more negative."),
    note,
  });

  const source = z.strictObject({
    file: z.string().min(1).describe("Path of the data file, relative to the protocol's folder."),
    columns: z
      .union([z.string().min(1), z.record(z.string(), z.unknown())])
      .describe("The column mapping: a JSON file's path, or the mapping itself."),
    note,
  });

  const condition = z.strictObject({
    id: z
      .string()
      .regex(/^[a-z0-9-]+$/, "an id has small letters, digits and hyphens only")
      .describe("Short stable name, used for file names and links."),
    title: z.string().min(1),
    definition: z
      .enum(["own", "published"])
      .describe("Whether the target condition is this study's own or a published definition."),
    citation: z.string().optional(),
    role: z.enum(["confirmatory", "exploratory"]),
    target: limitOnQuantity.describe("The condition, as found at the exam."),
    referWhen: limitOnQuantity.describe("The referral limit on the reading, fixed in advance."),
    choose: z
      .strictObject({
        criterion: z.union([
          z.literal("youden"),
          z.strictObject({ sensitivityAtLeast: z.number().gt(0).lt(1) }),
          z.strictObject({ specificityAtLeast: z.number().gt(0).lt(1) }),
        ]),
        note,
      })
      .optional()
      .describe("Also choose a limit on these data: exploratory, with its optimism."),
    caution: z.string().optional().describe("Printed beside every number of this condition."),
    note,
  });

  return z
    .strictObject({
      $schema: z.string().optional(),
      kind: z.literal("protocol"),
      version: z.literal(1),
      title: z.string().min(1),
      question: z.string().min(1).describe("The study's question in one line."),
      statement: z
        .string()
        .optional()
        .describe("First line of the report, such as what kind of demonstration this is."),
      audience: z
        .enum(["journal", "public"])
        .default("public")
        .describe("public suppresses small cells and draws no mark per eye; journal does not."),
      sources: z.strictObject({ readings: source, findings: source, note }),
      identifiers: z
        .strictObject({
          allow: z
            .array(z.string().min(1))
            .default([])
            .describe("Columns that look like identifiers and were checked by a person."),
          note,
        })
        .default({ allow: [] }),
      indexTest: z.strictObject({
        instrument: z.string().min(1).describe("The instrument's label in the column mapping."),
        cycloplegia: z.enum(["none", "full", "inadequate", "unknown"]).default("none"),
        correction: z
          .enum(["none", "glasses", "contact-lenses", "unknown"])
          .optional()
          .describe("What was worn; needed where the file holds several."),
        description: z.string().min(1),
        confidenceAtLeast: z.number().optional(),
        repeats: z.enum(["first", "last", "highest-confidence"]).default("first"),
        note,
      }),
      referenceStandard: z.strictObject({
        equivalent: z
          .enum(["computed", "stated"])
          .default("computed")
          .describe("Take M from sphere and cylinder, or the equivalent that the file states."),
        description: z.string().min(1),
        note,
      }),
      linkage: z
        .strictObject({
          daysBetween: z.tuple([z.number(), z.number()]).optional(),
          note,
        })
        .default({}),
      eligibility: z
        .strictObject({
          ageMonths: z.tuple([z.number().min(0), z.number()]).optional(),
          ageYears: z.tuple([z.number().min(0), z.number()]).optional(),
          note,
        })
        .default({}),
      unit: z.enum(["eye", "child"]).describe("What is counted."),
      eye: z
        .enum(["right", "left", "both", "worse"])
        .describe('"worse" goes with unit "child": the eye with the more extreme value decides.'),
      conditions: z.array(condition).min(1),
      subgroups: z
        .array(
          z.discriminatedUnion("by", [
            z.strictObject({
              by: z.literal("age"),
              edgesYears: z
                .array(z.number().positive())
                .min(1)
                .refine((edges) => edges.every((edge, at) => at === 0 || edge > edges[at - 1]), {
                  message: "the edges of age bands ascend",
                }),
              note,
            }),
            z.strictObject({ by: z.literal("site"), note }),
          ]),
        )
        .default([])
        .describe("Accuracy in groups, each with a test that all groups share one accuracy."),
      unreadable: z
        .enum(["refer", "pass", "exclude"])
        .describe("How a child without a usable reading is counted."),
      verification: z
        .enum(["complete", "partial", "none"])
        .describe("Whether all, some or none of the children who passed were examined."),
      sampling: z
        .enum(["cohort", "enriched"])
        .describe('"enriched": cases over-represented, as in a clinic; no predictive values then.'),
      acceptableDifference: z
        .number()
        .positive()
        .describe("Dioptres of M; stated in advance, for the share of differences within it."),
      level: z.number().gt(0.5).lt(1).default(0.95),
      seed: z.number().int(),
      replicates: z.number().int().min(0).max(100_000).default(2000),
      note,
    })
    .superRefine((protocol, context) => {
      if (protocol.eye === "worse" && protocol.unit !== "child") {
        context.addIssue({
          code: "custom",
          path: ["eye"],
          message: 'the eye "worse" goes with the unit "child"',
        });
      }
      if (protocol.unit === "child" && protocol.eye === "both") {
        context.addIssue({
          code: "custom",
          path: ["eye"],
          message: 'the unit "child" wants one value a child: "right", "left" or "worse"',
        });
      }
      const seen = new Set<string>();
      protocol.conditions.forEach((entry, index) => {
        if (seen.has(entry.id)) {
          context.addIssue({
            code: "custom",
            path: ["conditions", index, "id"],
            message: `the id "${entry.id}" is used twice`,
          });
        }
        seen.add(entry.id);
        if (entry.definition === "published" && entry.citation === undefined) {
          context.addIssue({
            code: "custom",
            path: ["conditions", index, "citation"],
            message: "a published definition needs its citation",
          });
        }
        const direction = (text: string) => (text.startsWith(">") ? "high" : "low");
        if (
          entry.target.quantity !== entry.referWhen.quantity ||
          direction(entry.target.relation) !== direction(entry.referWhen.relation)
        ) {
          context.addIssue({
            code: "custom",
            path: ["conditions", index, "referWhen"],
            message: "the referral limit must be on the target's quantity, in the same direction",
          });
        }
      });
    });
});

export type Protocol = z.infer<ReturnType<typeof protocolSchema>>;
export type ProtocolCondition = Protocol["conditions"][number];
