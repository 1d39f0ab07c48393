import { InputError } from "../results/index.js";
import type { Limits } from "./spaceInput.js";

/** Above this many rules the whole space is refused; its front can still be streamed. */
const mostRules = 40_000_000;

/** What a rule space would take. */
export interface RuleSpaceSize {
  readonly kind: "rule-space-size";
  readonly ruleCount: number;
  /** Of the counts of both classes. */
  readonly bytes: number;
  /** Whether `ruleSpace` and `searchRules` take it; `streamRules` takes larger grids. */
  readonly fits: boolean;
}

/**
 * Number of rules and memory of a grid, before any of it is taken.
 *
 * Limits are in the units of their criteria, dioptres as a rule.
 *
 * @param limits one array a criterion, as for `ruleSpace`
 * @param options `weighted`: with weights; `undecidable`: missing values under the policy "exclude";
 *   each doubles the memory
 *
 * @example
 * ruleSpaceSize({ sphere: [1, 2, 3], cylinder: [1, 2] }) // => { kind: "rule-space-size", ruleCount: 6, bytes: 48, fits: true }
 */
export function ruleSpaceSize(
  limits: Limits,
  options: { readonly weighted?: boolean; readonly undecidable?: boolean } = {},
): RuleSpaceSize {
  const rules = Object.values(limits).reduce((product, list) => product * list.length, 1);
  const bytes = spaceBytes(rules, options.weighted ?? false, options.undecidable ?? false);
  return { kind: "rule-space-size", ruleCount: rules, bytes, fits: rules <= mostRules };
}

/** Two arrays of counts, four if some rows can be undecidable; 4 bytes a count, 8 with weights. */
export function spaceBytes(rules: number, weighted: boolean, undecidable: boolean): number {
  return rules * (weighted ? 16 : 8) * (undecidable ? 2 : 1);
}

/** Refuses a grid that is too large, with its size and what to do instead. */
export function requireRoom(
  caller: string,
  limits: Limits,
  options: { readonly weighted?: boolean; readonly undecidable?: boolean } = {},
): void {
  const { ruleCount: rules, bytes, fits } = ruleSpaceSize(limits, options);
  if (fits) return;
  throw new InputError(
    `${caller} requires at most ${mostRules} rules, got ${rules} (${Math.round(bytes / 1e6)} MB of counts); take fewer limits, or stream the front with streamRules`,
  );
}
