import type { Estimate, Undefined } from "../../results/index.js";
import {
  type AgeBand,
  bandOfRows,
  bandText,
  type ClusterColumns,
  childrenOf,
  conditionCodes,
  type PositiveWhen,
  requireNumbers,
  requireSameLength,
  rowsOfGroups,
  sitesOf,
  takeClusters,
  takeColumns,
  type YesNoColumn,
} from "../../rows/index.js";
import { type RocCurve, rocCurve } from "../rocCurve.js";
import { areaUnderCurve } from "./areaUnderCurve.js";

/** The curve of each age band. */
export interface AreasByAgeBand {
  readonly kind: "areas-by-age-band";
  readonly n: number;
  /** Rows whose age is in no band. */
  readonly outside: number;
  readonly bands: readonly {
    readonly band: AgeBand;
    readonly label: string;
    readonly n: number;
    readonly area: Estimate | Undefined;
    /** null where a class is missing. */
    readonly curve: RocCurve | null;
  }[];
}

/**
 * A curve and its area for each age band (completed months, half-open).
 *
 * @throws when bands overlap or columns are faulty
 *
 * @example
 * areasByAgeBand({ values: [1, 2, 3, 4], condition: [0, 1, 0, 1], ageMonths: [40, 50, 80, 90] }, { positiveWhen: "high", bands: [{ fromMonths: 36, toMonths: 72 }, { fromMonths: 72, toMonths: 96 }] }).bands[0].n // => 2
 */
export function areasByAgeBand(
  data: ClusterColumns & {
    readonly values: ArrayLike<number>;
    readonly condition: YesNoColumn;
    readonly ageMonths: ArrayLike<number>;
  },
  options: {
    readonly positiveWhen: PositiveWhen;
    readonly bands: readonly AgeBand[];
    readonly level?: number;
  },
): AreasByAgeBand {
  const caller = "areasByAgeBand";
  const { values, condition, ageMonths } = data;
  const n = requireSameLength(caller, { values, condition });
  const codes = conditionCodes(caller, "condition", condition);
  requireNumbers(caller, "values", values, n);
  sitesOf(caller, data, childrenOf(caller, data, n));
  const bands = options?.bands;
  const { rows, outside } = rowsOfGroups(bandOfRows(caller, ageMonths, n, bands), bands.length);
  return {
    kind: "areas-by-age-band",
    n,
    outside,
    bands: bands.map((band, at) => {
      const part = {
        ...takeColumns({ values, condition: codes }, rows[at]),
        ...takeClusters(data, rows[at]),
      };
      const area = areaUnderCurve(part, options);
      const both = part.condition.includes(1) && part.condition.includes(0);
      return {
        band,
        label: bandText(band),
        n: rows[at].length,
        area,
        curve: both ? rocCurve(part, options) : null,
      };
    }),
  };
}
