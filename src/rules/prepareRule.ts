import { InputError } from "../results/index.js";
import { type CompiledRule, compileRule } from "./compileRule.js";
import { defineRule } from "./defineRule.js";
import type { ReferralRule } from "./types.js";

const prepared = new WeakMap<object, CompiledRule>();

/** A rule checked and made ready, once for each rule. */
export function prepareRule(caller: string, rule: ReferralRule): CompiledRule {
  if (typeof rule !== "object" || rule === null) {
    throw new InputError(`${caller} requires a rule from defineRule, got ${typeof rule}`);
  }
  let compiled = prepared.get(rule);
  if (compiled === undefined) {
    compiled = compileRule(defineRule(rule));
    prepared.set(rule, compiled);
  }
  return compiled;
}
