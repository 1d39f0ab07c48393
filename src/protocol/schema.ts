import type { z } from "zod";
import { corrections, cycloplegiaStates } from "../cohort/index.js";
import { schemaAtFirstUse } from "../platform/index.js";
import { conditionMistakes, programmeMistakes } from "./conditionMistakes.js";
import { criteriaMistakes } from "./criteria.js";
import { journalStyleMistakes } from "./journalStyle.js";
import { samplesMistakes } from "./samplesMistakes.js";
import { sideSchema } from "./sideSchema.js";

/** Built at first use. */
export const protocolSchema = schemaAtFirstUse((z) => {
  const note = z.string().optional().describe("A remark for the reader; the run ignores it.");

  const side = sideSchema();

  const source = z.strictObject({
    file: z.string().min(1).describe("Path of the data file, relative to the protocol's folder."),
    columns: z
      .union([z.string().min(1), z.record(z.string(), z.unknown())])
      .describe("The column mapping: a JSON file's path, or the mapping itself."),
    note,
  });

  const byAge = {
    by: z.literal("age"),
    edgesYears: z
      .array(z.number().positive())
      .min(1)
      .refine((edges) => edges.every((edge, at) => at === 0 || edge > edges[at - 1]), {
        message: "the edges of age bands ascend",
      }),
  };
  const ageLimits = z
    .tuple([z.number().min(0), z.number()])
    .refine(([from, to]) => from < to, { message: "the limits of age ascend" });
  const bySite = { by: z.literal("site") };
  const byOwn = {
    by: z.literal("own"),
    column: z
      .string()
      .min(1)
      .describe("The label of a column of words that the mapping names under own, such as sex."),
  };
  const role = z
    .enum(["confirmatory", "exploratory"])
    .default("exploratory")
    .describe("Whether the comparison of these groups was planned to be confirmatory.");

  const leastRates = {
    sensitivityAtLeast: z.number().gt(0).lt(1).optional(),
    specificityAtLeast: z.number().gt(0).lt(1).optional(),
  };

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
    target: side.describe(
      "The condition, as found at the exam: a limit on one variable, a published rule, or an own rule.",
    ),
    referWhen: side.describe(
      "The referral by the reading, fixed in advance: a limit on one variable, or a rule.",
    ),
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
      .describe(
        "Also choose a limit on these data: exploratory, with its optimism. For limits on one variable.",
      ),
    criteria: z
      .strictObject({ ...leastRates, note })
      .optional()
      .describe("What is asked of this condition in place of the study's criteria."),
    prevalences: z
      .array(z.number().gt(0).lt(1))
      .min(1)
      .max(6)
      .optional()
      .describe(
        "How common the condition is where the referral would be used, as shares such as [0.02, 0.1], stated in advance: how often a referral is then right.",
      ),
    caution: z.string().optional().describe("Printed beside every number of this condition."),
    note,
  });

  const printedText = (what: string) =>
    z
      .string()
      .trim()
      .min(1)
      .optional()
      .describe(`${what} Printed in the methods of every report, the public one too.`);
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
      rationale: printedText("What is known, what the reading is meant for, and why this study."),
      setting: printedText("Where and when children were found, without the name of a person."),
      masking: printedText(
        "What those who took the reading knew of the exam, and the examiners of the reading.",
      ),
      audience: z
        .enum(["journal", "public"])
        .default("public")
        .describe("public suppresses small cells and draws no mark per eye; journal does not."),
      sources: z.strictObject({ readings: source, findings: source, note }),
      samples: z
        .union([
          z.strictObject({
            by: z.string().min(1).describe("Label of an own column of the mapping."),
            development: z.array(z.string().min(1)).min(1),
            validation: z.array(z.string().min(1)).min(1),
            note,
          }),
          z.strictObject({
            validation: z.strictObject({ readings: source, findings: source, note }),
            note,
          }),
        ])
        .optional()
        .describe(
          "A second sample, of other children: by the values of an own column, or its own files (sources are then the development sample). A limit chosen on the development sample is reported on the validation sample; nothing is pooled.",
        ),
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
        cycloplegia: z.enum(cycloplegiaStates).default("none"),
        correction: z
          .enum(corrections)
          .optional()
          .describe("What was worn; needed where the file holds several."),
        equivalent: z
          .enum(["computed", "stated"])
          .optional()
          .describe(
            "Where M of the reading comes from; by default computed, or as stated where no row has sphere and cylinder.",
          ),
        description: z.string().min(1),
        confidenceAtLeast: z.number().optional(),
        repeats: z.enum(["first", "last", "highest-confidence"]).default("first"),
        range: z
          .strictObject({
            sphere: z
              .tuple([z.number(), z.number()])
              .refine(([from, to]) => from < to, { message: "the range from and to ascend" }),
            note,
          })
          .optional()
          .describe(
            "Spheres at which the instrument's range ends, such as [-7.5, 7.5]: limits of agreement are given with and without readings there.",
          ),
        note,
      }),
      referenceStandard: z.strictObject({
        equivalent: z
          .enum(["computed", "stated"])
          .default("computed")
          .describe("Take M from sphere and cylinder, or the equivalent that the file states."),
        cycloplegia: z
          .array(z.enum(cycloplegiaStates))
          .min(1)
          .optional()
          .describe(
            'States of cycloplegia in which a finding is a reference, such as ["full"]; by default all. Children with other findings only are counted in the flow as not verified.',
          ),
        errorSd: z
          .number()
          .positive()
          .max(3)
          .optional()
          .describe(
            "SD of the exam's own error of M in dioptres, from repeated exams or declared. Then what it does to sensitivity and specificity stands beside the headline as a sensitivity analysis.",
          ),
        description: z.string().min(1),
        note,
      }),
      linkage: z
        .strictObject({
          daysBetween: z
            .tuple([z.number(), z.number()])
            .refine(([from, to]) => from <= to, { message: "the days from and to ascend" })
            .optional(),
          exam: z
            .enum(["first", "last", "nearest"])
            .optional()
            .describe("Which of several exams of an eye counts; by default the first."),
          note,
        })
        .default({}),
      eligibility: z
        .strictObject({
          ageMonths: ageLimits.optional(),
          ageYears: ageLimits.optional(),
          own: z
            .record(
              z.string().min(1),
              z.union([z.tuple([z.number(), z.number()]), z.array(z.string()).min(1)]),
            )
            .optional()
            .describe(
              "By own columns of the mapping: the words that are eligible, or numbers from (included) to (left out). Who has no value is not eligible.",
            ),
          note,
        })
        .default({}),
      unit: z.enum(["eye", "child"]).describe("What is counted."),
      clusters: z
        .enum(["child", "site"])
        .optional()
        .describe(
          'What intervals take as independent; by default "child". "site" (school, district): children of one site share what moves their readings, and intervals are jackknifed over sites.',
        ),
      eye: z
        .enum(["right", "left", "both", "worse", "random"])
        .describe(
          '"worse" goes with unit "child": the eye with the more extreme value decides. "random" is one eye a child, drawn by the seed.',
        ),
      conditions: z.array(condition).min(1),
      subgroups: z
        .array(
          z.discriminatedUnion("by", [
            z.strictObject({ ...byAge, role, note }),
            z.strictObject({ ...bySite, role, note }),
            z.strictObject({ ...byOwn, role, note }),
          ]),
        )
        .default([])
        .describe(
          "Agreement and accuracy in groups, with a test that all groups share one accuracy.",
        ),
      baseline: z
        .strictObject({
          own: z
            .array(z.string().min(1))
            .optional()
            .describe(
              "Labels of own columns that are described; by default those of subgroups and verificationStrata.",
            ),
          by: z
            .string()
            .min(1)
            .optional()
            .describe(
              "Label of an own column of words whose groups are the table's columns; by default examined and not examined, or all.",
            ),
          note,
        })
        .optional()
        .describe(
          "The baseline table. The public report has none: its small counts would follow from one another.",
        ),
      undecidable: z
        .enum(["refer", "pass", "exclude"])
        .describe("How a child without a usable reading is counted."),
      verification: z
        .enum(["complete", "partial", "none"])
        .describe("Whether all, some or none of the children who passed were examined."),
      verificationStrata: z
        .discriminatedUnion("by", [
          z.strictObject({ ...byAge, note }),
          z.strictObject({ ...bySite, note }),
          z.strictObject({ ...byOwn, note }),
        ])
        .optional()
        .describe("Groups within which children were drawn for the exam, beside the result."),
      programme: z
        .strictObject({
          referWhen: side
            .optional()
            .describe(
              "The programme's own referral by the reading, where no file records its decision: a limit on one variable, decided by the worse eye, or a rule.",
            ),
          passesDrawn: z
            .union([z.number().gt(0).max(1), z.record(z.string(), z.number().gt(0).max(1))])
            .optional()
            .describe(
              "Share of those who passed that was drawn at random for an exam; or the share of each group of verificationStrata. Passes examined for no stated reason then count as drawn.",
            ),
          describeBy: z
            .array(z.string().min(1))
            .optional()
            .describe(
              "Groups in which the programme is described beside site and age: labels of flags in the readings' mapping, such as sex or a school year.",
            ),
          withinDays: z
            .number()
            .min(0)
            .optional()
            .describe("Days from screening within which an exam was promised."),
          note,
        })
        .optional()
        .describe("What the programme did, on which being examined depends; not what is studied."),
      sampling: z
        .enum(["cohort", "enriched"])
        .describe('"enriched": cases over-represented, as in a clinic; no predictive values then.'),
      acceptableDifference: z
        .number()
        .positive()
        .describe("Dioptres of M; stated in advance, for the share of differences within it."),
      criteria: z
        .strictObject({
          ...leastRates,
          withinAcceptableAtLeast: z
            .number()
            .gt(0)
            .lt(1)
            .optional()
            .describe("Least share of differences of M within acceptableDifference."),
          note,
        })
        .optional()
        .describe(
          "What is asked of every confirmatory condition and of the agreement, stated in advance: met where the whole interval lies above, not met where it lies below; without criteria the report has no verdict.",
        ),
      leadingLimits: z
        .enum(["percentile", "normal"])
        .optional()
        .describe(
          'The summary of limits of agreement that sentences go by; by default "percentile". Both are always given.',
        ),
      smallCounts: z
        .strictObject({
          fewerThan: z.number().int().min(2).max(1000),
          roundTo: z.number().int().min(2).max(1000),
          note,
        })
        .optional()
        .describe(
          'For the public: counts below fewerThan read "fewer than", others the nearest multiple of roundTo; by default 11 and 5.',
        ),
      level: z.number().gt(0.5).lt(1).default(0.95),
      seed: z.number().int(),
      replicates: z
        .number()
        .int()
        .min(0)
        .max(100_000)
        .default(2000)
        .describe(
          "Resamples of bootstrap intervals. Intervals corrected for who was examined take five times as many draws, at least 200; those at the stops of a curve as many, at least 40.",
        ),
      outputs: z
        .array(z.enum(["html", "markdown", "word", "pdf"]))
        .min(1)
        .optional()
        .describe(
          "Forms of the report; by default all. Figures, tables, result and manifest are always written.",
        ),
      journalStyle: z
        .strictObject({
          decimal: z
            .enum(["point", "comma", "raised"])
            .optional()
            .describe('"0.95" (by default), "0,95" or "0\u00b795".'),
          thousands: z
            .enum(["comma", "thin-space"])
            .optional()
            .describe("From 10,000 on; by default a comma, with a decimal comma a thin space."),
          columnMm: z
            .tuple([z.number().min(60).max(110), z.number().min(110).max(220)])
            .optional()
            .describe(
              "Widths in millimetres of one column and of the page, such as [84, 174]: figures and tables are as wide.",
            ),
          note,
        })
        .optional()
        .describe(
          "How a journal prints numbers and how wide its columns are, in every form of the report. Data files (CSV, JSON, workbooks) keep plain numbers.",
        ),
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
          message: 'the unit "child" wants one value a child: "right", "left", "worse" or "random"',
        });
      }
      if (protocol.verificationStrata !== undefined && protocol.verification !== "partial") {
        context.addIssue({
          code: "custom",
          path: ["verificationStrata"],
          message: 'the draw of children within groups goes with verification "partial"',
        });
      }
      const { programme } = protocol;
      const saysWhoCame =
        programme?.referWhen !== undefined || programme?.passesDrawn !== undefined;
      if (saysWhoCame && protocol.verification === "complete") {
        context.addIssue({
          code: "custom",
          path: ["programme"],
          message: 'who was examined matters with verification "partial" or "none"',
        });
      }
      if (typeof programme?.passesDrawn === "object" && protocol.verificationStrata === undefined) {
        context.addIssue({
          code: "custom",
          path: ["programme", "passesDrawn"],
          message: "shares by group go with verificationStrata, which names the groups",
        });
      }
      for (const { path, message } of programmeMistakes(protocol)) {
        context.addIssue({ code: "custom", path: ["programme", "referWhen", ...path], message });
      }
      for (const { path, message } of criteriaMistakes(protocol)) {
        context.addIssue({ code: "custom", path: [...path], message });
      }
      for (const { path, message } of journalStyleMistakes(protocol)) {
        context.addIssue({ code: "custom", path: [...path], message });
      }
      for (const { path, message } of samplesMistakes(protocol)) {
        context.addIssue({ code: "custom", path: [...path], message });
      }
      for (const { path, message } of conditionMistakes(protocol)) {
        context.addIssue({ code: "custom", path: [...path], message });
      }
    });
});

/** The choices of a study, made before its data are looked at. */
export type Protocol = z.infer<ReturnType<typeof protocolSchema>>;
export type ProtocolCondition = Protocol["conditions"][number];
