import { type Decision, onGrid } from "../rows/index.js";
import { bandsOfAge } from "./bandsOfAge.js";
import { bySize, certaintyOf, no, unknown, yes } from "./columns/certainty.js";
import { type CompiledRule, comparable, type Leaf, type Tree } from "./compileRule.js";
import { type EyeValue, eyeValue, pairValue } from "./eyeValue.js";
import { pathText } from "./path.js";
import { bandText, limitText } from "./ruleText.js";
import type {
  AgeReason,
  CrossedReason,
  MissingReason,
  RuleChild,
  RuleDecision,
  RuleReason,
} from "./types.js";

/** A rule on one child, with every reason. */
export function applyToChild(compiled: CompiledRule, child: RuleChild): RuleDecision {
  const { rule, leaves, bands, anyAge } = compiled;
  const possible = bandsOfAge(compiled, child.ageMonths, child.ageYears);
  const values = leaves.map((leaf) => valuesOf(leaf, child));
  const codes = leaves.map((leaf, at) =>
    certaintyOf(leaf, numeric(values[at].right), numeric(values[at].left)),
  );
  const decided = (decision: Decision, reasons: readonly RuleReason[], band: number | null) => ({
    kind: "rule-decision" as const,
    rule: rule.id,
    decision,
    reasons,
    band: band === null || anyAge ? null : bandAges(bands[band]),
  });
  if (possible === null) return decided("undecidable", [ageReason("age-unknown")], null);
  if (possible.bands.length === 0) return decided("undecidable", [ageReason("no-band")], null);
  const outcomes = possible.bands.map((band) => evaluate(bands[band].tree, codes));
  const agreed = !possible.outside && outcomes.every((outcome) => outcome === outcomes[0]);
  const only = possible.bands.length === 1 && !possible.outside ? possible.bands[0] : null;
  if (!agreed) {
    const ages = possible.bands.map((band) => bandText(bandAges(bands[band])));
    return decided("undecidable", [ageReason("age-spans-bands", ages, possible.outside)], null);
  }
  const chosen = new Set(
    possible.bands.flatMap((band) => decisive(bands[band].tree, codes, outcomes[0])),
  );
  const reasons = [...chosen]
    .sort((a, b) => a - b)
    .flatMap((at): RuleReason[] =>
      outcomes[0] === yes
        ? crossedReasons(leaves[at], values[at])
        : outcomes[0] === unknown
          ? missingReasons(leaves[at], values[at])
          : [],
    );
  const decision = outcomes[0] === yes ? "refer" : outcomes[0] === no ? "pass" : "undecidable";
  return decided(decision, reasons, only);
}

interface LeafValues {
  /** Of the right eye; of a pair, the pair's own value where it has one. */
  readonly right: EyeValue;
  readonly left: EyeValue;
}

function valuesOf(leaf: Leaf, child: RuleChild): LeafValues {
  const right = eyeValue(leaf, child.right);
  const left = eyeValue(leaf, child.left);
  if (leaf.eye !== "pair") return { right, left };
  if (typeof right === "number" && typeof left === "number") {
    const value = pairValue(leaf, { right: child.right!, left: child.left! });
    return { right: value, left: value };
  }
  return {
    right: typeof right === "number" ? Number.NaN : right,
    left: typeof left === "number" ? Number.NaN : left,
  };
}

function numeric(value: EyeValue): number {
  return typeof value === "number" ? comparable(value) : Number.NaN;
}

/** The value of an expression, from those of its limits. */
function evaluate(tree: Tree, codes: ArrayLike<number>): number {
  if (tree.op === "limit") return codes[tree.leaf];
  let result = tree.op === "any" ? no : yes;
  for (const member of tree.members) {
    const code = evaluate(member, codes);
    result = tree.op === "any" ? result | code : result & code;
  }
  return result;
}

/** The limits that make an expression what it is: those of equal value on the way down. */
function decisive(tree: Tree, codes: readonly number[], outcome: number): number[] {
  if (tree.op === "limit") return codes[tree.leaf] === outcome ? [tree.leaf] : [];
  return tree.members.flatMap((member) =>
    evaluate(member, codes) === outcome ? decisive(member, codes, outcome) : [],
  );
}

function crossedReasons(leaf: Leaf, { right, left }: LeafValues): CrossedReason[] {
  const named = [
    { eye: "right", value: right },
    { eye: "left", value: left },
  ] as const;
  const crossed = named.filter(({ value }) => {
    if (typeof value !== "number") return false;
    return (comparable(value) >= leaf.low && comparable(value) < leaf.high) !== leaf.negated;
  });
  const shown =
    leaf.eye === "pair"
      ? [{ eye: "pair", value: right } as const]
      : leaf.eye === "right" || leaf.eye === "left"
        ? crossed.filter(({ eye }) => eye === leaf.eye)
        : leaf.eye === "either" || leaf.eye === "both"
          ? crossed
          : named.filter(({ value }) => value === chosenValue(leaf, right, left));
  return shown.map(({ eye, value }) => ({
    kind: "crossed",
    path: pathText(leaf.path),
    criterion: leaf.limit.criterion,
    eye,
    words: limitText(leaf.limit),
    value: shownValue(leaf, value as number),
    limit: leaf.limit.limit ?? null,
    margin: margin(leaf, value as number),
    negated: leaf.negated,
  }));
}

/** The value of the eye that a limit chooses; with one eye missing, the other's. */
function chosenValue(leaf: Leaf, right: EyeValue, left: EyeValue): EyeValue {
  if (typeof right !== "number") return left;
  if (typeof left !== "number") return right;
  if (leaf.eye === "highest") return Math.max(right, left);
  if (leaf.eye === "lowest") return Math.min(right, left);
  const chosen = bySize(leaf, comparable(right), comparable(left));
  return chosen === comparable(left) ? left : right;
}

function shownValue({ limit }: Leaf, value: number): CrossedReason["value"] {
  if (limit.is !== undefined) return value === 1;
  if (Number.isFinite(value)) return onGrid(value);
  return value > 0 ? "over-range" : "under-range";
}

function margin({ limit, negated }: Leaf, value: number): number | null {
  if (limit.limit === undefined || !Number.isFinite(value)) return null;
  const past = onGrid(value) - limit.limit;
  const upwards = limit.relation!.startsWith(">") !== negated;
  return onGrid(upwards ? past : -past);
}

function missingReasons(leaf: Leaf, { right, left }: LeafValues): MissingReason[] {
  const missing = (["right", "left"] as const).flatMap((eye) => {
    const why = eye === "right" ? right : left;
    const asked = (leaf.eye !== "right" && leaf.eye !== "left") || leaf.eye === eye;
    return typeof why === "string" && asked ? [{ eye, why }] : [];
  });
  const tied = (["right", "left"] as const).map((eye) => ({ eye, why: "tie" as const }));
  return (missing.length > 0 ? missing : tied).map(({ eye, why }) => ({
    kind: "missing",
    path: pathText(leaf.path),
    criterion: leaf.limit.criterion,
    eye,
    words: limitText(leaf.limit),
    why,
  }));
}

function ageReason(
  why: AgeReason["why"],
  bands: readonly string[] = [],
  outside = false,
): AgeReason {
  const words =
    why === "age-unknown"
      ? "the age is unknown, and the rule depends on it"
      : why === "no-band"
        ? "no band of the rule holds this age"
        : `the year of age spans ${[...bands, ...(outside ? ["ages without a band"] : [])].join(" and ")}, which disagree`;
  return { kind: "age", why, words };
}

function bandAges({ from, to }: { from: number; to: number }): readonly [number, number | null] {
  return [from, to === Number.POSITIVE_INFINITY ? null : to];
}
