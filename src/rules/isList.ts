import type { Expression } from "./types.js";

/** A list of expressions, which means any of them. */
export function isList(expression: Expression): expression is readonly Expression[] {
  return Array.isArray(expression);
}
