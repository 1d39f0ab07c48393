import { proportionInterval } from "../inference/index.js";
import {
  type Estimate,
  formerNames,
  InputError,
  type Undefined,
  undefinedBecause,
} from "../results/index.js";
import {
  reaches,
  requireLength,
  requireNoSites,
  requireSameLength,
  type UndecidablePolicy,
  type YesNoColumn,
  yesNoCodes,
} from "../rows/index.js";
import type { RuleLimits } from "./ruleSearch.js";
import { type Measures, requireMeasures } from "./spaceInput.js";

export interface ConditionSensitivity {
  readonly condition: string;
  /** Children with this condition whom the rule decides. */
  readonly n: number;
  readonly referred: number;
  /** With this condition but left out, as the rule cannot decide them. */
  readonly undecidable: number;
  /** Share referred, by whichever criterion; Wilson 1927. */
  readonly sensitivity: Estimate | Undefined;
}

/** How many of each condition one rule refers. */
export interface SensitivityByCondition {
  readonly kind: "sensitivity-by-condition";
  readonly n: number;
  readonly limits: RuleLimits;
  readonly undecidable: UndecidablePolicy | null;
  readonly level: number;
  readonly conditions: readonly ConditionSensitivity[];
}

/**
 * How many children with each condition one joint rule refers, whichever of its criteria does it.
 *
 * Rows are children, taken as independent; a child may have several conditions. Referred when any
 * value is >= its limit (null is "off"). A missing value needs a policy, as in `ruleSpace`. For a
 * rule chosen on the same rows the shares are too good.
 *
 * Rates are proportions, 0 to 1.
 *
 * @param limits the limits of the rule that refers
 * @param data `conditions`: one array of true/false (or 1/0) a condition; `atLeast` as for
 *   `ruleSpace`
 * @throws when keys or lengths differ, or a value is missing and no policy is given
 *
 * @example
 * sensitivityByCondition({ measures: { sphere: [1, 5, 6, 0] }, conditions: { hyperopia: [0, 1, 1, 1] } }, { sphere: 4 }).conditions[0].referred // => 2
 */
export function sensitivityByCondition(
  data: {
    readonly measures: Measures;
    readonly atLeast?: Measures;
    readonly conditions: { readonly [condition: string]: YesNoColumn };
  },
  limits: RuleLimits,
  options: { readonly undecidable?: UndecidablePolicy; readonly level?: number } = {},
): SensitivityByCondition {
  const caller = "sensitivityByCondition";
  requireNoSites(caller, data);
  options = formerNames(caller, options, "undecidable");
  const { undecidable, level = 0.95 } = options;
  const columns = Object.entries(limits).flatMap(([criterion, limit]) => {
    const values = data.measures[criterion];
    if (values === undefined) {
      throw new InputError(`sensitivityByCondition requires measures of ${criterion}, got none`);
    }
    const atLeast = data.atLeast?.[criterion];
    return limit === null || limit === Number.POSITIVE_INFINITY ? [] : [{ values, atLeast, limit }];
  });
  const n = requireSameLength(caller, data.measures);
  requireMeasures(caller, data, n);
  const decide = (row: number): "refer" | "pass" | "exclude" => {
    const missing = columns.filter(({ values }) => Number.isNaN(values[row]));
    if (columns.some(({ values, limit }) => reaches(values[row], limit, "high"))) return "refer";
    if (
      missing.some(
        ({ atLeast, limit }) => atLeast !== undefined && reaches(atLeast[row], limit, "high"),
      )
    ) {
      return "refer";
    }
    if (missing.length === 0) return "pass";
    if (undecidable !== undefined) return undecidable;
    throw new InputError(
      'sensitivityByCondition requires undecidable: "refer", "pass" or "exclude" where values are missing, got none',
    );
  };
  return {
    kind: "sensitivity-by-condition",
    n,
    limits,
    undecidable: undecidable ?? null,
    level,
    conditions: Object.entries(data.conditions).map(([condition, has]) => {
      requireLength(caller, condition, has, n);
      const codes = yesNoCodes(caller, condition, has);
      const counts = { refer: 0, pass: 0, exclude: 0 };
      for (let row = 0; row < n; row++) {
        if (codes[row] === 1) counts[decide(row)]++;
      }
      const trials = counts.refer + counts.pass;
      return {
        condition,
        n: trials,
        referred: counts.refer,
        undecidable: counts.exclude,
        sensitivity:
          trials === 0
            ? undefinedBecause("no child with this condition")
            : proportionInterval({ successes: counts.refer, trials }, { level }),
      };
    }),
  };
}
