import { didYouMean, formerNames, InputError } from "../results/index.js";
import {
  clustersOf,
  requireNoSites,
  requireSameLength,
  takeColumns,
  type UndecidablePolicy,
  type YesNoColumn,
  yesNoCodes,
} from "../rows/index.js";
import type { RuleLimits } from "./ruleSearch.js";
import { type Limits, type Measures, requireMeasures } from "./spaceInput.js";

/** Rows and limits of the region where everybody was examined. */
export interface ExaminedRegion {
  readonly kind: "examined-region";
  readonly n: number;
  readonly measures: { readonly [criterion: string]: readonly number[] };
  /** Where the data had them: what is known of a missing value. */
  readonly atLeast?: { readonly [criterion: string]: readonly number[] };
  readonly condition: readonly (boolean | number)[];
  readonly limits: { readonly [criterion: string]: readonly number[] };
  readonly subjects?: readonly (string | number)[];
  /** Where the region begins: a row is in it when a value is at or above its own. */
  readonly from: RuleLimits;
  /** Rows outside the region: not examined or not, no rule of it refers them, and they are in no count. */
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
 * Limits are in the units of their criteria, dioptres as a rule. A missing value (NaN) is in the
 * region where `atLeast` says that it is at least `from`, and under "refer", which counts it as
 * crossing every limit; else the row's other values decide.
 *
 * @param data columns, and who was examined; `atLeast` as for `ruleSpace`
 * @param from one number a criterion; null (or `Infinity`) where the criterion takes no part in it
 * @param options the policy for missing values that the rules will be counted with
 * @throws when a row of the region was not examined, a criterion keeps no limit, or a missing value
 *   decides and no policy is given
 *
 * @example
 * restrictToExamined({ measures: { sphere: [1, 3, 5] }, condition: [0, 0, 1], examined: [0, 1, 1], limits: { sphere: [2, 3, 4] } }, { sphere: 3 }).limits // => { sphere: [3, 4] }
 */
export function restrictToExamined(
  data: {
    readonly measures: Measures;
    readonly atLeast?: Measures;
    readonly condition: YesNoColumn;
    readonly examined: YesNoColumn;
    readonly limits: Limits;
    readonly subjects?: ArrayLike<string | number>;
  },
  from: RuleLimits,
  options: { readonly undecidable?: UndecidablePolicy } = {},
): ExaminedRegion {
  const caller = "restrictToExamined";
  requireNoSites(caller, data, "give the sites to searchRules, for the rows that are kept");
  options = formerNames(caller, options, "undecidable");
  const criteria = Object.keys(data.limits);
  const without = criteria.find((criterion) => !Object.hasOwn(data.measures, criterion));
  if (without !== undefined) {
    throw new InputError(`${caller} requires a measure for each limit, got none of ${without}`);
  }
  const strange = Object.keys(from).find((criterion) => !criteria.includes(criterion));
  if (strange !== undefined) {
    throw new InputError(
      `${caller} requires criteria with limits, got "${strange}" in where the region begins; ${didYouMean(strange, criteria)}`,
    );
  }
  const edge = (criterion: string): number => {
    const value = from[criterion];
    if (value === undefined || Number.isNaN(value)) {
      throw new InputError(`${caller} requires where the region begins in ${criterion}, got none`);
    }
    return value ?? Number.POSITIVE_INFINITY;
  };
  const edges = criteria.map(edge);
  const { condition, subjects } = data;
  const n = requireSameLength(caller, { condition, examined: data.examined });
  requireMeasures(caller, data, n);
  clustersOf(caller, subjects, n);
  const examined = yesNoCodes(caller, "examined", data.examined);
  yesNoCodes(caller, "condition", condition);
  const rows: number[] = [];
  let open = 0;
  for (let row = 0; row < n; row++) {
    if (!isInside(row)) continue;
    rows.push(row);
    if (examined[row] === 0) open++;
  }
  if (open > 0) {
    throw new InputError(
      `${caller} requires that every row of the region was examined, got ${open} of ${rows.length} that were not; begin higher, or give examination to searchRules where a random share was examined`,
    );
  }

  function isInside(row: number): boolean {
    let missing: string | null = null;
    for (let at = 0; at < criteria.length; at++) {
      const criterion = criteria[at];
      const value = data.measures[criterion][row];
      const known = Number.isNaN(value) ? data.atLeast?.[criterion][row] : value;
      if (known !== undefined && known >= edges[at]) return true;
      if (Number.isNaN(value) && edges[at] !== Number.POSITIVE_INFINITY) missing = criterion;
    }
    if (missing !== null && options.undecidable === undefined) {
      throw new InputError(
        `${caller} requires undecidable: "refer", "pass" or "exclude" where values are missing, got none and a missing ${missing}`,
      );
    }
    return missing !== null && options.undecidable === "refer";
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
  const columnsOf = (columns: Measures) =>
    takeColumns(Object.fromEntries(criteria.map((name) => [name, columns[name]])), rows);
  return {
    kind: "examined-region",
    n: rows.length,
    measures: columnsOf(data.measures),
    ...(data.atLeast === undefined ? {} : { atLeast: columnsOf(data.atLeast) }),
    ...takeColumns({ condition, subjects }, rows),
    limits,
    from,
    below: n - rows.length,
    note: "Rates are relative to the children of the region where passes were examined; they are not the programme's sensitivity and specificity.",
  };
}
