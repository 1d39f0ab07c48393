import { requireLevel } from "../../inference/index.js";
import { formerNames, InputError } from "../../results/index.js";
import {
  clustersOf,
  type PositiveWhen,
  requireNoSites,
  type YesNoColumn,
} from "../../rows/index.js";
import { areaUnderCurve } from "./areaUnderCurve.js";
import { type AreaComparison, differenceOf } from "./compareAreas.js";

/** One of two groups of different children. */
export interface AreaGroup {
  readonly values: ArrayLike<number>;
  readonly condition: YesNoColumn;
  readonly subjects?: ArrayLike<string | number>;
}

/**
 * Compares the areas of two groups of different children: the variances add.
 *
 * An area is a proportion, 0 to 1.
 *
 * @throws when a child is in both groups (compare paired areas then), or an area cannot be estimated
 *
 * @example
 * compareIndependentAreas({ first: { values: [1, 3, 2, 4], condition: [0, 0, 1, 1] }, second: { values: [1, 2, 4, 3], condition: [0, 1, 0, 1] } }, { positiveWhen: "high" }).difference.value // => 0.25
 */
export function compareIndependentAreas(
  data: { readonly first: AreaGroup; readonly second: AreaGroup },
  options: { readonly positiveWhen: PositiveWhen; readonly level?: number },
): AreaComparison {
  const caller = "compareIndependentAreas";
  data = formerNames(caller, data, "areaGroups");
  const level = requireLevel(caller, options?.level ?? 0.95);
  const { first, second } = data;
  for (const group of [first, second]) {
    requireNoSites(caller, group, "give the area of each group with clusters by areaUnderCurve");
  }
  requireDifferentChildren(caller, first, second);
  const [a, b] = [first, second].map((group) => {
    const area = areaUnderCurve(group, { positiveWhen: options?.positiveWhen });
    if (area.kind === "undefined") {
      throw new InputError(`${caller} requires two areas, got one undefined: ${area.reason}`);
    }
    return area;
  });
  const variance = (a.se ?? 0) ** 2 + (b.se ?? 0) ** 2;
  return {
    kind: "area-comparison",
    design: "unpaired",
    n: a.n + b.n,
    ...(a.subjects === undefined || b.subjects === undefined
      ? {}
      : { subjects: a.subjects + b.subjects }),
    first: a.value,
    second: b.value,
    ...differenceOf([a.value, b.value], variance, level, "sum of variances"),
    correlation: 0,
    level,
    method: "sum of variances",
  };
}

function requireDifferentChildren(caller: string, first: AreaGroup, second: AreaGroup): void {
  if (first.subjects === undefined || second.subjects === undefined) return;
  const labels = [...Array.from(first.subjects), ...Array.from(second.subjects)];
  const { ofRow } = clustersOf(caller, labels, labels.length);
  const inA = new Set(ofRow.subarray(0, first.subjects.length));
  const both = new Set(ofRow.subarray(first.subjects.length).filter((child) => inA.has(child)));
  if (both.size > 0) {
    throw new InputError(
      `${caller} requires different children in the two groups, got ${both.size} in both`,
    );
  }
}
