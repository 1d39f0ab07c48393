import {
  clustersOf,
  conditionCodes,
  type PositiveWhen,
  requireNumbers,
  type YesNoColumn,
} from "../../rows/index.js";
import { countByValue } from "../countByValue.js";
import { requireBothClasses } from "../rocCurve.js";
import { areaCovariance } from "./areaCovariance.js";
import { rowDeviations } from "./areaUnderCurve.js";
import { placements } from "./placements.js";

/** Areas of several tests on the same rows, with their covariance. */
export interface JointAreas {
  readonly n: number;
  readonly subjects?: number;
  readonly areas: readonly number[];
  readonly covariance: readonly (readonly number[])[];
  readonly method: string;
}

export function jointAreas(
  caller: string,
  tests: readonly { readonly name: string; readonly values: ArrayLike<number> }[],
  rows: {
    readonly condition: YesNoColumn;
    readonly subjects?: ArrayLike<string | number>;
  },
  directions: readonly PositiveWhen[],
): JointAreas {
  const codes = conditionCodes(caller, "condition", rows.condition);
  const found =
    rows.subjects === undefined ? null : clustersOf(caller, rows.subjects, codes.length);
  const clusters = found?.repeated ? found : null;
  const parts = tests.map(({ name, values }, at) => {
    requireNumbers(caller, name, values, codes.length);
    const counts = countByValue(caller, { values, condition: codes }, directions[at]);
    requireBothClasses(caller, counts);
    const components = placements(counts);
    return {
      counts,
      area: components.area,
      deviations: rowDeviations(counts, components, values, codes),
    };
  });
  return {
    n: codes.length,
    ...(found === null ? {} : { subjects: found.count }),
    areas: parts.map(({ area }) => area),
    covariance: areaCovariance(
      parts.map(({ deviations }) => deviations),
      codes,
      clusters,
      parts[0].counts,
    ),
    method: clusters === null ? "delong" : "obuchowski",
  };
}
