import { isOnGrid } from "../rows/index.js";
import { checkRule, conditionsOfRule, type Mistake, type ReferralRule } from "../rules/index.js";
import { ruleOf } from "./ruleOf.js";
import { isLimit, type ProtocolSide } from "./sideSchema.js";

/** What of a protocol is looked at here. */
interface Choices {
  readonly unit: "eye" | "child";
  readonly conditions: readonly {
    readonly id: string;
    readonly definition: "own" | "published";
    readonly citation?: string;
    readonly target: ProtocolSide;
    readonly referWhen: ProtocolSide;
    readonly choose?: object;
  }[];
}

/** What is wrong with the conditions of a protocol of the right shape, each with its path. */
export function conditionMistakes({ unit, conditions }: Choices): Mistake[] {
  const mistakes: Mistake[] = [];
  const seen = new Set<string>();
  conditions.forEach((condition, at) => {
    const say = (key: string, message: string, path: readonly PropertyKey[] = []) =>
      mistakes.push({ path: ["conditions", at, key, ...path], message });
    const { id, target, referWhen } = condition;
    if (seen.has(id)) say("id", `the id "${id}" is used twice`);
    seen.add(id);
    const sides = {
      target: sideRule(target, "finding", (path, message) => say("target", message, path)),
      referWhen: sideRule(referWhen, "reading", (path, message) => say("referWhen", message, path)),
    };
    if (sides.target === "wrong" || sides.referWhen === "wrong") return;
    if (unit !== "child" && (sides.target !== null || sides.referWhen !== null)) {
      const key = sides.target === null ? "referWhen" : "target";
      say(key, 'a rule is decided by child: it goes with the unit "child"');
    }
    checkDefinition(condition, sides.target, say);
    checkVariable(condition, sides.target, say);
  });
  return mistakes;
}

/** What is wrong with the programme's own rule, each with its path in it. */
export function programmeMistakes({
  programme,
}: {
  readonly programme?: { readonly referWhen?: ProtocolSide };
}): Mistake[] {
  const mistakes: Mistake[] = [];
  if (programme?.referWhen !== undefined) {
    sideRule(programme.referWhen, "reading", (path, message) => mistakes.push({ path, message }));
  }
  return mistakes;
}

type Say = (key: string, message: string) => void;

/** The side's rule, null for a limit, or "wrong" once its mistakes are said. */
function sideRule(
  side: ProtocolSide,
  appliesTo: ReferralRule["appliesTo"],
  say: (path: readonly PropertyKey[], message: string) => void,
): ReferralRule | null | "wrong" {
  if (isLimit(side)) {
    if (!isOnGrid(side.limit)) say(["limit"], `${side.limit} is finer than 0.001`);
    return null;
  }
  let rule: ReferralRule;
  try {
    rule = ruleOf(side, appliesTo)!;
  } catch (error) {
    say(["choices"], (error as Error).message.replace(/^\w+ /, ""));
    return "wrong";
  }
  const own = "kind" in side;
  if (rule.appliesTo !== appliesTo) {
    say(["appliesTo"], `this side is about a ${appliesTo}, the rule about a ${rule.appliesTo}`);
    return "wrong";
  }
  const found = checkRule(rule);
  for (const { path, message } of found) say(own ? path : ["published"], message);
  return found.length > 0 ? "wrong" : rule;
}

function checkDefinition(
  { definition, citation }: Choices["conditions"][number],
  rule: ReferralRule | null,
  say: Say,
): void {
  if (definition === "published" && citation === undefined && rule?.citation === undefined) {
    say("citation", "a published definition needs its citation");
  }
  if (rule !== null && rule.definition !== definition) {
    say("definition", `the rule of the target is "${rule.definition}"`);
  }
}

/** Limits of both sides look at one variable, in one direction; only then can one be chosen. */
function checkVariable(
  { target, referWhen, choose }: Choices["conditions"][number],
  rule: ReferralRule | null,
  say: Say,
): void {
  if (!isLimit(referWhen)) {
    if (choose !== undefined) {
      say("choose", "a limit is chosen on one variable; here a rule refers");
    }
    return;
  }
  const direction = (text: string) => (text.startsWith(">") ? "high" : "low");
  if (isLimit(target)) {
    if (
      target.quantity !== referWhen.quantity ||
      direction(target.relation) !== direction(referWhen.relation)
    ) {
      say(
        "referWhen",
        "the referral limit must be on the target's quantity, in the same direction",
      );
    }
    return;
  }
  const parts = conditionsOfRule(rule!);
  const [{ variable }] = parts;
  if (parts.length === 1 && variable.kind !== "undefined") {
    if (variable.positiveWhen !== direction(referWhen.relation)) {
      say("referWhen", "the referral limit must look in the direction of the target's rule");
    }
  } else if (choose !== undefined) {
    const words = parts.map((part) => part.words).join(", ");
    say("choose", `a limit is chosen on one variable; the target joins ${words}`);
  }
}
