import type { Decision } from "../../src/rows/index.js";
import type {
  Expression,
  ReferralRule,
  RuleChild,
  RuleEye,
  RuleLimit,
} from "../../src/rules/index.js";

/**
 * A rule by definition, from its JSON alone: a limit is decided when every value that a missing eye
 * could have gives the same answer; any-of, all-of and not as Kleene's strong logic has them.
 */
type Answer = "yes" | "no" | "unknown";

export function decideByDefinition(rule: ReferralRule, child: RuleChild): Decision {
  const expressions = expressionsAt(rule, child);
  if (expressions === null) return "undecidable";
  const answers = new Set(expressions.map((one) => answer(rule, one, child)));
  if (answers.size !== 1) return "undecidable";
  const [only] = answers;
  return only === "yes" ? "refer" : only === "no" ? "pass" : "undecidable";
}

function expressionsAt(rule: ReferralRule, child: RuleChild): Expression[] | null {
  if (rule.referWhen !== undefined) return [rule.referWhen];
  const months =
    child.ageMonths === undefined || child.ageMonths === null
      ? child.ageYears === undefined || child.ageYears === null
        ? []
        : Array.from({ length: 12 }, (_, month) => child.ageYears! * 12 + month)
      : [Math.floor(child.ageMonths)];
  const found = months.map((month) =>
    rule.bands!.find(({ ageMonths: [from, to] }) => month >= from && (to === null || month < to)),
  );
  if (found.length === 0 || found.some((band) => band === undefined)) return null;
  return [...new Set(found.map((band) => band!.referWhen))];
}

function answer(rule: ReferralRule, expression: Expression, child: RuleChild): Answer {
  if (Array.isArray(expression)) return anyOf(expression.map((one) => answer(rule, one, child)));
  const one = expression as Exclude<Expression, readonly Expression[]>;
  if ("anyOf" in one) return anyOf(one.anyOf.map((member) => answer(rule, member, child)));
  if ("allOf" in one) {
    return opposite(anyOf(one.allOf.map((member) => opposite(answer(rule, member, child)))));
  }
  if ("not" in one) return opposite(answer(rule, one.not, child));
  if ("subRule" in one) return answer(rule, rule.subRules![one.subRule], child);
  return limitAnswer(one, child);
}

function anyOf(answers: Answer[]): Answer {
  return answers.includes("yes") ? "yes" : answers.includes("unknown") ? "unknown" : "no";
}

function opposite(one: Answer): Answer {
  return one === "yes" ? "no" : one === "no" ? "yes" : "unknown";
}

const unsigned = ["cylinder", "J0", "J45", "vector", "greatestMeridian"];

function limitAnswer(limit: RuleLimit, child: RuleChild): Answer {
  if (limit.eye === undefined || limit.eye === "pair") {
    const value = pair(limit, child);
    return value === null ? "unknown" : compare(limit, value) ? "yes" : "no";
  }
  const right = ofEye(limit, child.right ?? {});
  const left = ofEye(limit, child.left ?? {});
  const could = (value: number | null) =>
    value === null ? possible(limit, right ?? left) : [value];
  const results = new Set<boolean>();
  for (const one of could(right)) {
    for (const other of could(left))
      for (const result of both(limit, one, other)) results.add(result);
  }
  return results.size > 1 ? "unknown" : results.has(true) ? "yes" : "no";
}

/** Values on and around everything that matters, and far away. */
function possible(limit: RuleLimit, known: number | null): number[] {
  const marks = [limit.limit, ...Object.values(limit.range ?? {}), known ?? 0, 0, 90];
  const values = marks.flatMap((mark) =>
    mark === undefined ? [] : [mark, -mark].flatMap((at) => [at - 0.001, at, at + 0.001]),
  );
  return limit.is !== undefined
    ? [0, 1]
    : unsigned.includes(limit.quantity!)
      ? values.filter((value) => value >= 0)
      : values;
}

/** One answer, or two where the eyes are equally far from zero. */
function both(limit: RuleLimit, right: number, left: number): boolean[] {
  const [one, other] = [compare(limit, right), compare(limit, left)];
  switch (limit.eye) {
    case "right":
      return [one];
    case "left":
      return [other];
    case "either":
      return [one || other];
    case "both":
      return [one && other];
    case "worse": {
      const low = limit.criterion === "myopia";
      return [compare(limit, low ? Math.min(right, left) : Math.max(right, left))];
    }
    default: {
      const sizes = [Math.abs(Math.round(right * 1000)), Math.abs(Math.round(left * 1000))];
      if (sizes[0] === sizes[1]) return [one, other];
      return [sizes[0] < sizes[1] === (limit.eye === "lesser-error") ? one : other];
    }
  }
}

function compare(limit: RuleLimit, value: number): boolean {
  if (limit.is !== undefined) return (value === 1) === limit.is;
  const rounded = Math.round(value * 1000) / 1000;
  const ends = limit.range ?? { [limit.relation!]: limit.limit };
  return Object.entries(ends).every(([relation, end]) => {
    if (relation === ">") return rounded > end!;
    if (relation === ">=") return rounded >= end!;
    return relation === "<" ? rounded < end! : rounded <= end!;
  });
}

function ofEye(limit: RuleLimit, eye: RuleEye): number | null {
  if (limit.is !== undefined) {
    const yes = eye[limit.criterion as "strabismus"];
    return yes === undefined || yes === null ? null : Number(yes);
  }
  const { sphere, cylinder } = eye;
  if (limit.quantity === "cylinder") {
    if (cylinder === undefined || cylinder === null) return null;
    if (limit.degreesOff === undefined || cylinder === 0) return Math.abs(cylinder);
    if (eye.axis === undefined || eye.axis === null) return null;
    const off = limit.degreesOff;
    const axial = [0, 90, 180].some((meridian) => Math.abs(eye.axis! - meridian) <= off);
    return axial ? 0 : Math.abs(cylinder);
  }
  if (limit.quantity === "logMAR") return eye.acuityLogMAR ?? null;
  if (eye.status === "over-range" && limit.quantity !== "mostNegativeMeridian") return 1000;
  if (
    eye.status === "under-range" &&
    (limit.quantity === "mostNegativeMeridian" || limit.quantity === "M")
  ) {
    return -1000;
  }
  return power(limit.quantity!, sphere, cylinder);
}

function power(
  quantity: string,
  sphere: number | null | undefined,
  cylinder: number | null | undefined,
): number | null {
  if (sphere === undefined || sphere === null || cylinder === undefined || cylinder === null) {
    return null;
  }
  const meridians = [sphere, sphere + cylinder].sort((a, b) => a - b);
  if (quantity === "M") return (meridians[0] + meridians[1]) / 2;
  return quantity === "mostNegativeMeridian" ? meridians[0] : meridians[1];
}

function pair(limit: RuleLimit, { right, left }: RuleChild): number | null {
  const quantity = limit.quantity!;
  if (quantity === "logMAR") {
    const [one, other] = [right?.acuityLogMAR, left?.acuityLogMAR];
    return one == null || other == null ? null : Math.abs(one - other);
  }
  if (quantity === "cylinder") {
    const [one, other] = [right?.cylinder, left?.cylinder];
    return one == null || other == null ? null : Math.abs(Math.abs(one) - Math.abs(other));
  }
  if (!["J0", "J45", "vector", "greatestMeridian"].includes(quantity)) {
    const one = power(quantity, right?.sphere, right?.cylinder);
    const other = power(quantity, left?.sphere, left?.cylinder);
    return one === null || other === null ? null : Math.abs(one - other);
  }
  const components = (eye: RuleEye | null | undefined) => {
    if (eye?.sphere == null || eye.cylinder == null) return null;
    if (eye.cylinder !== 0 && eye.axis == null) return null;
    const angle = ((eye.axis ?? 0) * Math.PI) / 90;
    const half = -eye.cylinder / 2;
    return [eye.sphere - half, half * Math.cos(angle), half * Math.sin(angle)];
  };
  const [one, other] = [components(right), components(left)];
  if (one === null || other === null) return null;
  if (limit.mirror) other[2] = -other[2];
  const [M, J0, J45] = one.map((part, at) => Math.abs(part - other[at]));
  if (quantity === "J0") return J0;
  if (quantity === "J45") return J45;
  return quantity === "vector" ? Math.hypot(M, J0, J45) : M + Math.hypot(J0, J45);
}
