import { caution, type ForAudience, formerNames, jointAudience } from "../results/index.js";
import {
  type AgeBand,
  bandOfRows,
  bandText,
  rowsOfGroups,
  takeColumns,
  type UndecidablePolicy,
  type YesNoColumn,
} from "../rows/index.js";
import { paretoFront, type RuleFront } from "./paretoFront.js";
import { ruleSpace } from "./ruleSpace.js";
import type { Limits, Measures } from "./spaceInput.js";

/** The front of each age band, searched on its own. */
export interface RuleFrontsByAgeBand {
  readonly kind: "rule-fronts-by-age-band";
  readonly n: number;
  /** Rows whose age is in no band: in no front. */
  readonly outside: number;
  readonly against: "specificity" | "referralRate";
  readonly bands: readonly {
    readonly band: AgeBand;
    readonly label: string;
    readonly front: RuleFront;
  }[];
  readonly caution: string;
}

/**
 * The front of the joint rules of each age band; `mergeFronts` joins them into rules with limits of
 * their own in every band.
 *
 * @param data as for `ruleSpace`, and the age of each row in completed months
 * @throws when a band lacks a class, bands overlap, or the data are faulty
 *
 * @example
 * ruleFrontsByAgeBand({ measures: { sphere: [1, 2, 3, 4] }, condition: [0, 1, 0, 1], ageMonths: [40, 40, 80, 80], limits: { sphere: [2, 4] } }, { bands: [{ fromMonths: 36, toMonths: 72 }, { fromMonths: 72, toMonths: 96 }] }).bands.map(({ front }) => front.n) // => [2, 2]
 */
export function ruleFrontsByAgeBand(
  data: {
    readonly measures: Measures;
    readonly atLeast?: Measures;
    readonly condition: YesNoColumn;
    readonly limits: Limits;
    readonly weights?: ArrayLike<number>;
    readonly ageMonths: ArrayLike<number>;
  } & ForAudience,
  options: {
    readonly bands: readonly AgeBand[];
    readonly undecidable?: UndecidablePolicy;
    readonly against?: "specificity" | "referralRate";
  },
): RuleFrontsByAgeBand {
  options = formerNames("ruleFrontsByAgeBand", options, "undecidable");
  const { against = "specificity", bands, undecidable } = options;
  const n = data.condition.length;
  const ofRow = bandOfRows("ruleFrontsByAgeBand", data.ageMonths, n, bands);
  const { rows, outside } = rowsOfGroups(ofRow, bands.length);
  return {
    kind: "rule-fronts-by-age-band",
    n,
    outside,
    against,
    bands: bands.map((band, at) => {
      const { condition, weights } = data;
      const measures = takeColumns(data.measures, rows[at]);
      const atLeast = data.atLeast && { atLeast: takeColumns(data.atLeast, rows[at]) };
      const columns = takeColumns({ condition, weights }, rows[at]);
      const space = ruleSpace(
        { ...columns, measures, limits: data.limits, ...atLeast, ...jointAudience(data) },
        { undecidable },
      );
      return { band, label: bandText(band), front: paretoFront(space, { against }) };
    }),
    caution,
  };
}
