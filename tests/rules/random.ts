import fc from "fast-check";
import type { RuleChild, RuleColumns, RuleEye, RuleEyeColumns } from "../../src/rules/index.js";

const quarter = (from: number, to: number) =>
  fc.integer({ min: from * 4, max: to * 4 }).map((steps) => steps / 4);
const eyes = fc.constantFrom(
  "either",
  "both",
  "worse",
  "lesser-error",
  "greatest-error",
  "right",
  "left",
);
const compared = (limit: fc.Arbitrary<number>) =>
  fc.oneof(
    { weight: 3, arbitrary: fc.record({ relation: fc.constantFrom(">", ">=", "<", "<="), limit }) },
    {
      weight: 1,
      arbitrary: fc
        .tuple(limit, limit, fc.constantFrom(">", ">="), fc.constantFrom("<", "<="))
        .filter(([one, other]) => one !== other)
        .map(([one, other, from, to]) => ({
          range: { [from]: Math.min(one, other), [to]: Math.max(one, other) },
        })),
    },
  );
const joined = (...parts: fc.Arbitrary<object>[]) =>
  fc.tuple(...parts).map((objects) => Object.assign({}, ...objects) as object);

/** One limit of a finding. */
export const limits = fc.oneof(
  joined(
    fc.record({
      criterion: fc.constantFrom("hyperopia", "myopia", "refraction"),
      quantity: fc.constantFrom("sphere", "mostPositiveMeridian", "mostNegativeMeridian", "M"),
      eye: eyes,
    }),
    compared(quarter(-2, 2)),
  ),
  joined(
    fc.record({
      criterion: fc.constant("astigmatism"),
      quantity: fc.constant("cylinder"),
      eye: eyes,
    }),
    compared(quarter(0.5, 2)),
  ),
  joined(
    fc.record({
      criterion: fc.constant("obliqueAstigmatism"),
      quantity: fc.constant("cylinder"),
      eye: eyes,
      degreesOff: fc.constantFrom(10, 15, 20),
    }),
    compared(quarter(0.5, 2)),
  ),
  joined(
    fc.record({
      criterion: fc.constant("anisometropia"),
      quantity: fc.constantFrom("M", "sphere", "mostNegativeMeridian", "cylinder", "J0"),
    }),
    compared(quarter(0.5, 2)),
  ),
  joined(
    fc.record({
      criterion: fc.constant("anisometropia"),
      quantity: fc.constantFrom("vector", "greatestMeridian", "J45"),
      mirror: fc.boolean(),
    }),
    compared(quarter(0.5, 2)),
  ),
  fc.record({
    criterion: fc.constantFrom("strabismus", "mediaOpacity"),
    is: fc.boolean(),
    eye: fc.constantFrom("either", "both", "right", "left"),
  }),
);

export const { expression: expressions } = fc.letrec<{ expression: object }>((tie) => ({
  expression: fc.oneof(
    { depthSize: "small", withCrossShrink: true },
    { weight: 4, arbitrary: limits },
    { weight: 2, arbitrary: fc.array(tie("expression"), { minLength: 1, maxLength: 4 }) },
    {
      weight: 1,
      arbitrary: fc.record({ anyOf: fc.array(tie("expression"), { minLength: 1, maxLength: 3 }) }),
    },
    {
      weight: 2,
      arbitrary: fc.record({ allOf: fc.array(tie("expression"), { minLength: 1, maxLength: 3 }) }),
    },
    { weight: 1, arbitrary: fc.record({ not: tie("expression") }) },
  ),
}));

const oneEye: fc.Arbitrary<RuleEye> = fc.oneof(
  {
    weight: 5,
    arbitrary: fc.record({
      sphere: quarter(-3, 3),
      cylinder: quarter(-3, 3),
      axis: fc.oneof(
        { weight: 9, arbitrary: fc.integer({ min: 0, max: 180 }) },
        { weight: 1, arbitrary: fc.constant(null) },
      ),
      strabismus: fc.constantFrom(true, false, null),
      mediaOpacity: fc.constantFrom(true, false, null),
    }),
  },
  {
    weight: 1,
    arbitrary: fc.record({
      status: fc.constantFrom("unreadable", "over-range", "under-range", "not-attempted"),
      strabismus: fc.constantFrom(true, false, null),
    }),
  },
);

export const children: fc.Arbitrary<RuleChild> = fc.record({
  right: fc.oneof({ weight: 9, arbitrary: oneEye }, { weight: 1, arbitrary: fc.constant(null) }),
  left: fc.oneof({ weight: 9, arbitrary: oneEye }, { weight: 1, arbitrary: fc.constant(null) }),
  ageMonths: fc.oneof(fc.integer({ min: 0, max: 90 }), fc.constant(null)),
  ageYears: fc.oneof(fc.integer({ min: 0, max: 7 }), fc.constant(null)),
});

const statuses = ["measured", "over-range", "under-range", "unreadable", "not-attempted"];

/** The same children as columns. */
export function asColumns(list: readonly RuleChild[]): RuleColumns {
  const numbers = (pick: (child: RuleChild) => number | null | undefined) =>
    Float64Array.from(list, (child) => pick(child) ?? Number.NaN);
  const side = (eye: "right" | "left"): RuleEyeColumns => {
    const column = (name: keyof RuleEye) =>
      numbers((child) => {
        const value = child[eye]?.[name];
        return typeof value === "boolean" ? Number(value) : (value as number | null | undefined);
      });
    return {
      sphere: column("sphere"),
      cylinder: column("cylinder"),
      axis: column("axis"),
      acuityLogMAR: column("acuityLogMAR"),
      pupilMm: column("pupilMm"),
      gazeHorizontal: column("gazeHorizontal"),
      gazeVertical: column("gazeVertical"),
      strabismus: column("strabismus"),
      mediaOpacity: column("mediaOpacity"),
      status: Uint8Array.from(list, (child) => {
        const one = child[eye];
        return one ? statuses.indexOf(one.status ?? "measured") : 255;
      }),
    };
  };
  return {
    kind: "rule-columns",
    n: list.length,
    ageMonths: numbers((child) => child.ageMonths),
    ageYears: numbers((child) => child.ageYears),
    right: side("right"),
    left: side("left"),
  };
}
