import type { z } from "zod";
import { InputError } from "../results/index.js";
import { namedIssues } from "../results/namedIssues.js";
import { schemaAtFirstUse } from "../results/schemaAtFirstUse.js";
import { mostChildren } from "./smallestStaying.js";
import type { AccuracyStudy, AgreementStudy, AreaStudy } from "./studies.js";

/** The three plans as they may be written in a file; unknown keys are errors. */
export const studySchemas = schemaAtFirstUse((z) => {
  const share = z.number().gt(0).lt(1);
  const rate = z.number().gt(0).lt(1);
  const rates = z
    .strictObject({ sensitivity: rate.optional(), specificity: rate.optional() })
    .refine((given) => Object.keys(given).length > 0, {
      message: "at least one of sensitivity and specificity",
    });
  const shared = {
    note: z.string().optional(),
    level: share.optional(),
    lost: z.number().gte(0).lt(1).optional(),
    at: z.array(z.number().int().min(2).max(mostChildren)).min(1).max(200).optional(),
  };
  const aimNames = (names: string) => ({ error: `one aim: ${names}` });

  const accuracy: z.ZodType<AccuracyStudy> = z
    .strictObject({
      kind: z.literal("accuracy").optional(),
      ...shared,
      expected: z.strictObject({ sensitivity: rate, specificity: rate, prevalence: share }),
      aim: z
        .union(
          [
            z.strictObject({ halfWidth: rates }),
            z.strictObject({ width: rates }),
            z.strictObject({ minimum: rates, power: share }),
          ],
          aimNames("halfWidth, or width, or minimum with power; each number between 0 and 1"),
        )
        .optional(),
      interval: z.enum(["wilson", "clopper-pearson", "wald"]).optional(),
      assurance: share.optional(),
      eyes: z
        .strictObject({
          perChild: z.number().gte(1).lte(2),
          correlation: z.number().gte(0).lte(1),
        })
        .optional(),
      verification: z
        .strictObject({
          shareOfPasses: z.number().gt(0).lte(1).optional(),
          children: z.number().int().positive().max(mostChildren).optional(),
          shareOfReferred: z.number().gt(0).lte(1).optional(),
        })
        .refine(
          ({ shareOfPasses, children }) =>
            (shareOfPasses === undefined) !== (children === undefined),
          { message: "either shareOfPasses or children" },
        )
        .optional(),
    })
    .refine(({ aim, at }) => aim !== undefined || at !== undefined, {
      message: "an aim, or the numbers of children `at` which precision is wanted",
    })
    .refine(({ aim, verification }) => verification === undefined || !isGoal(aim), {
      message: "with verification a half-width or width: there is no exact power",
      path: ["aim"],
    })
    .refine(({ aim, verification }) => verification?.children === undefined || aim !== undefined, {
      message: "with the number of children a half-width or width",
      path: ["aim"],
    })
    .refine(
      ({ verification, eyes, assurance, interval }) =>
        verification === undefined || [eyes, assurance, interval].every((one) => one === undefined),
      {
        message: "verification without eyes, assurance and interval: the interval is the logit one",
      },
    )
    .refine(({ aim, assurance }) => assurance === undefined || !isGoal(aim), {
      message: "without assurance where a power is asked for: power already counts the chance",
      path: ["assurance"],
    });

  const agreement: z.ZodType<AgreementStudy> = z
    .strictObject({
      kind: z.literal("agreement").optional(),
      ...shared,
      expected: z.strictObject({ sd: z.number().positive(), bias: z.number().optional() }),
      aim: z.union(
        [
          z.strictObject({ within: z.number().positive(), power: share }),
          z.strictObject({ halfWidth: z.number().positive() }),
          z.strictObject({
            repeats: z.number().int().min(2).max(100),
            relativeHalfWidth: share,
          }),
        ],
        aimNames("within with power, or halfWidth, or repeats with relativeHalfWidth"),
      ),
      interval: z.enum(["exact", "approximate", "lu-2016"]).optional(),
      coverage: share.optional(),
    })
    .refine(({ aim, interval }) => !("repeats" in aim && interval === "lu-2016"), {
      message: 'for repeats "exact" or "approximate"',
      path: ["interval"],
    });

  const area: z.ZodType<AreaStudy> = z
    .strictObject({
      kind: z.literal("area").optional(),
      ...shared,
      expected: z.strictObject({
        area: z.number().gt(0.5).lt(1),
        prevalence: share,
        second: z
          .strictObject({ area: z.number().gt(0.5).lt(1), correlation: z.number().gte(0).lt(1) })
          .optional(),
      }),
      aim: z.union(
        [
          z.strictObject({ halfWidth: z.number().gt(0).lt(0.5) }),
          z.strictObject({ above: z.number().gte(0.5).lt(1), power: share }),
          z.strictObject({ differencePower: share }),
        ],
        aimNames("halfWidth, or above with power, or differencePower"),
      ),
      variance: z.enum(["binormal", "obuchowski", "hanley-mcneil"]).optional(),
      test: z.enum(["interval", "null-variance"]).optional(),
    })
    .refine(({ aim, expected }) => "differencePower" in aim === (expected.second !== undefined), {
      message: "differencePower and a second test go together",
      path: ["aim"],
    });

  return { accuracy, agreement, area };
});

function isGoal(aim: AccuracyStudy["aim"]): boolean {
  return aim !== undefined && "minimum" in aim;
}

/** The study, checked; every mistake is named with its path, what was wanted and what came. */
export function checkedStudy<Study>(
  caller: string,
  schema: z.ZodType<Study>,
  study: unknown,
): Study {
  const parsed = schema.safeParse(study);
  if (parsed.success) return parsed.data;
  const mistakes = parsed.error.issues
    .flatMap((issue) => namedIssues(issue))
    .map(({ path, message }) => {
      const got = JSON.stringify(path.reduce<unknown>(memberOf, study)) ?? "nothing";
      return `${path.join(".") || "the plan"}: ${message}, got ${got.length > 80 ? "another" : got}`;
    });
  throw new InputError(`${caller} requires a valid plan: ${mistakes.join("; ")}`);
}

function memberOf(value: unknown, key: PropertyKey): unknown {
  return typeof value === "object" && value !== null
    ? (value as { [key: PropertyKey]: unknown })[key]
    : undefined;
}
