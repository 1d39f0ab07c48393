import type { z } from "zod";
import { schemaAtFirstUse } from "../platform/index.js";
import { InputError, namedIssues } from "../results/index.js";
import { grouped } from "../rows/index.js";
import { mostChildren } from "./smallestStaying.js";
import type { AccuracyStudy, AgreementStudy, AreaStudy } from "./studies.js";

/** The three plans as they may be written in a file; unknown keys are errors. */
export const studySchemas = schemaAtFirstUse((z) => {
  const number = (words: string, fits: (value: number) => boolean) =>
    z.number({ error: `requires ${words}` }).refine(fits, { error: `requires ${words}` });
  const share = number("a number above 0 and below 1", (x) => x > 0 && x < 1);
  const fromZero = number("a number from 0 and below 1", (x) => x >= 0 && x < 1);
  const toOne = number("a number above 0, at most 1", (x) => x > 0 && x <= 1);
  const positive = number("a number above 0", (x) => x > 0);
  const area = number("an area above 0.5 and below 1", (x) => x > 0.5 && x < 1);
  const children = (least: number) =>
    number(
      `a whole number of children from ${least} to ${grouped(mostChildren)}`,
      (x) => Number.isInteger(x) && x >= least && x <= mostChildren,
    );
  const oneOf = <const Words extends readonly [string, ...string[]]>(words: Words) =>
    z.enum(words, { error: `requires one of ${words.map((word) => `"${word}"`).join(", ")}` });
  const rates = z
    .strictObject({ sensitivity: share.optional(), specificity: share.optional() })
    .refine((given) => Object.keys(given).length > 0, {
      message: "requires at least one of sensitivity and specificity",
    });
  const shared = {
    note: z.string().optional(),
    level: share.optional(),
    lost: fromZero.optional(),
    at: z.array(children(2)).min(1).max(200).optional(),
  };
  const aimNames = (names: string) => ({ error: `requires one aim: ${names}` });

  const accuracy: z.ZodType<AccuracyStudy> = z
    .strictObject({
      kind: z.literal("accuracy").optional(),
      ...shared,
      expected: z.strictObject({ sensitivity: share, specificity: share, prevalence: share }),
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
      interval: oneOf(["wilson", "clopper-pearson", "wald"]).optional(),
      assurance: share.optional(),
      eyes: z
        .strictObject({
          perChild: number("a number from 1 to 2", (x) => x >= 1 && x <= 2),
          correlation: number("a number from 0 to 1", (x) => x >= 0 && x <= 1),
        })
        .optional(),
      sites: z
        .strictObject({
          perSite: children(2),
          correlation: number("a number from 0 to 1", (x) => x >= 0 && x <= 1),
        })
        .optional(),
      verification: z
        .strictObject({
          shareOfPasses: toOne.optional(),
          children: children(1).optional(),
          shareOfReferred: toOne.optional(),
        })
        .refine(
          ({ shareOfPasses, children }) =>
            (shareOfPasses === undefined) !== (children === undefined),
          { message: "requires either shareOfPasses or children" },
        )
        .optional(),
    })
    .refine(({ aim, at }) => aim !== undefined || at !== undefined, {
      message: "requires an aim, or the numbers of children `at` which precision is wanted",
    })
    .refine(({ aim, verification }) => verification === undefined || !isGoal(aim), {
      message: "requires, with verification, a half-width or width: there is no exact power",
      path: ["aim"],
    })
    .refine(({ aim, verification }) => verification?.children === undefined || aim !== undefined, {
      message: "requires, with the number of children, a half-width or width",
      path: ["aim"],
    })
    .refine(
      ({ verification, eyes, sites, assurance, interval }) =>
        verification === undefined ||
        [eyes, sites, assurance, interval].every((one) => one === undefined),
      {
        message:
          "requires verification without eyes, sites, assurance and interval: the interval is the logit one",
      },
    )
    .refine(
      ({ aim, sites, assurance }) =>
        sites === undefined || (!isGoal(aim) && assurance === undefined),
      {
        message:
          "requires, with sites, a half-width or width and no assurance: there is no exact power with sites above children",
        path: ["sites"],
      },
    )
    .refine(({ at, sites }) => !sites || !at || at.every((n) => n >= 2 * sites.perSite), {
      message: "requires, with sites, numbers of children that fill at least 2 sites",
      path: ["at"],
    })
    .refine(({ aim, assurance }) => assurance === undefined || !isGoal(aim), {
      message:
        "requires a plan without assurance where a power is asked for: power already counts the chance",
      path: ["assurance"],
    });

  const agreement: z.ZodType<AgreementStudy> = z
    .strictObject({
      kind: z.literal("agreement").optional(),
      ...shared,
      expected: z.strictObject({ sd: positive, bias: z.number().optional() }),
      aim: z.union(
        [
          z.strictObject({ within: positive, power: share }),
          z.strictObject({ halfWidth: positive }),
          z.strictObject({
            repeats: number(
              "a whole number from 2 to 100",
              (x) => Number.isInteger(x) && x >= 2 && x <= 100,
            ),
            relativeHalfWidth: share,
          }),
        ],
        aimNames("within with power, or halfWidth, or repeats with relativeHalfWidth"),
      ),
      interval: oneOf(["exact", "approximate", "lu-2016"]).optional(),
      coverage: share.optional(),
    })
    .refine(({ aim, interval }) => !("repeats" in aim && interval === "lu-2016"), {
      message: 'requires, for repeats, "exact" or "approximate"',
      path: ["interval"],
    });

  const areaStudy: z.ZodType<AreaStudy> = z
    .strictObject({
      kind: z.literal("area").optional(),
      ...shared,
      expected: z.strictObject({
        area,
        prevalence: share,
        second: z.strictObject({ area, correlation: fromZero }).optional(),
      }),
      aim: z.union(
        [
          z.strictObject({
            halfWidth: number("a number above 0 and below 0.5", (x) => x > 0 && x < 0.5),
          }),
          z.strictObject({
            above: number("an area from 0.5 and below 1", (x) => x >= 0.5 && x < 1),
            power: share,
          }),
          z.strictObject({ differencePower: share }),
        ],
        aimNames("halfWidth, or above with power, or differencePower"),
      ),
      variance: oneOf(["binormal", "obuchowski", "hanley-mcneil"]).optional(),
      test: oneOf(["interval", "null-variance"]).optional(),
    })
    .refine(({ aim, expected }) => "differencePower" in aim === (expected.second !== undefined), {
      message: "requires differencePower together with a second test, or neither",
      path: ["aim"],
    });

  return { accuracy, agreement, area: areaStudy };
});

function isGoal(aim: AccuracyStudy["aim"]): boolean {
  return aim !== undefined && "minimum" in aim;
}

/** The study, checked; every mistake is named with its path, what is required and what came. */
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
      const got = message.startsWith("requires") ? gotWords(path.reduce(memberOf, study)) : "";
      return `${path.join(".") || "the plan"}: ${message}${got}`;
    });
  throw new InputError(`${caller} requires a valid plan, got ${mistakes.join("; ")}`);
}

/** What came, where it is short enough to say. */
function gotWords(value: unknown): string {
  const text = typeof value === "number" ? String(value) : (JSON.stringify(value) ?? "nothing");
  return text.length > 80 ? "" : `, got ${text}`;
}

function memberOf(value: unknown, key: PropertyKey): unknown {
  return typeof value === "object" && value !== null
    ? (value as { [key: PropertyKey]: unknown })[key]
    : undefined;
}
