import { InputError } from "../results/index.js";
import { takeRows } from "./ageBands.js";
import type { RuleLimits } from "./ruleSearch.js";
import type { Limits, Measures } from "./ruleSpace.js";

/** Rows and limits of the region where everybody was examined. */
export interface ExaminedRegion {
  readonly kind: "examined-region";
  readonly n: number;
  readonly measures: { readonly [criterion: string]: readonly number[] };
  readonly condition: readonly (boolean | number)[];
  readonly limits: { readonly [criterion: string]: readonly number[] };
  readonly subjects?: readonly (string | number)[];
  /** Where the region begins: a row is in it when a value is at or above its own. */
  readonly from: RuleLimits;
  /** Rows below the whole region: not examined or not, they are in no count. */
  readonly below: number;
  /** What the rates mean. */
  readonly note: string;
}

/**
 * The part of a programme in which rules can be compared although passes below it were not examined:
 * the rows with a value at or above `from`, all of whom must have been examined, and the limits at
 * or above it.
 *
 * Every rule left refers rows of the region only, so its true and false referrals are counted in
 * full. Cases below the region are unknown: "sensitivity" of such a space is relative to the cases
 * within it, "specificity" relative to the region's children without the condition, and neither is
 * that of the programme. Rules compare by them all the same.
 *
 * Limits are in the units of their criteria, dioptres as a rule.
 *
 * @param data columns, and who was examined
 * @param from one number a criterion; null (or `Infinity`) where the criterion takes no part in it
 * @throws when a row of the region was not examined, or a criterion keeps no limit
 *
 * @example
 * restrictToExamined({ measures: { sphere: [1, 3, 5] }, condition: [0, 0, 1], examined: [0, 1, 1], limits: { sphere: [2, 3, 4] } }, { sphere: 3 }).limits // => { sphere: [3, 4] }
 */
export function restrictToExamined(
  data: {
    readonly measures: Measures;
    readonly condition: ArrayLike<boolean | number>;
    readonly examined: ArrayLike<boolean | number>;
    readonly limits: Limits;
    readonly subjects?: ArrayLike<string | number>;
  },
  from: RuleLimits,
): ExaminedRegion {
  const caller = "restrictToExamined";
  const criteria = Object.keys(data.limits);
  const edge = (criterion: string): number => {
    const value = from[criterion];
    if (value === undefined || Number.isNaN(value)) {
      throw new InputError(`${caller} requires where the region begins in ${criterion}, got none`);
    }
    return value ?? Number.POSITIVE_INFINITY;
  };
  const edges = criteria.map(edge);
  const rows: number[] = [];
  let open = 0;
  for (let row = 0; row < data.condition.length; row++) {
    if (!criteria.some((criterion, at) => data.measures[criterion][row] >= edges[at])) continue;
    rows.push(row);
    if (data.examined[row] !== true && data.examined[row] !== 1) open++;
  }
  if (open > 0) {
    throw new InputError(
      `${caller} requires that every row of the region was examined, got ${open} of ${rows.length} that were not; begin higher, or give verification to searchRules where a random share was examined`,
    );
  }
  const limits = Object.fromEntries(
    criteria.map((criterion, at) => {
      const kept = Array.from(
        data.limits[criterion],
        (limit) => limit ?? Number.POSITIVE_INFINITY,
      ).filter((limit) => limit >= edges[at]);
      if (kept.length === 0) {
        throw new InputError(
          `${caller} requires a limit of ${criterion} at or above ${edges[at]}, got none`,
        );
      }
      return [criterion, kept];
    }),
  );
  const columns = criteria.map((criterion) => [
    criterion,
    takeRows(data.measures[criterion], rows),
  ]);
  return {
    kind: "examined-region",
    n: rows.length,
    measures: Object.fromEntries(columns),
    condition: takeRows(data.condition, rows),
    limits,
    ...(data.subjects === undefined ? {} : { subjects: takeRows(data.subjects, rows) }),
    from,
    below: data.condition.length - rows.length,
    note: "Rates are relative to the children of the region where passes were examined; they are not the programme's sensitivity and specificity.",
  };
}
