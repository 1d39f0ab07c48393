import { besideRules } from "./rules/besideRules.js";
import { childRules } from "./rules/childRules.js";
import { findingRules } from "./rules/findingRules.js";
import { measuredRules } from "./rules/measuredRules.js";
import type { RoleRule } from "./rules/ruleWords.js";

/** In the order in which they are asked: the first that fits is taken. */
export const rules: readonly RoleRule[] = [
  ...measuredRules,
  ...childRules,
  ...findingRules,
  ...besideRules,
];
