import { requireLevel } from "../../inference/index.js";
import { InputError } from "../../results/index.js";
import { clustersOf, type YesNoColumn } from "../../rows/index.js";
import type { PositiveWhen } from "../direction.js";
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
 * compareIndependentAreas({ groupA: { values: [1, 3, 2, 4], condition: [0, 0, 1, 1] }, groupB: { values: [1, 2, 4, 3], condition: [0, 1, 0, 1] } }, { positiveWhen: "high" }).difference.value // => 0.25
 */
export function compareIndependentAreas(
  data: { readonly groupA: AreaGroup; readonly groupB: AreaGroup },
  options: { readonly positiveWhen: PositiveWhen; readonly level?: number },
): AreaComparison {
  const caller = "compareIndependentAreas";
  const level = requireLevel(caller, options?.level ?? 0.95);
  const { groupA, groupB } = data;
  requireDifferentChildren(caller, groupA, groupB);
  const [a, b] = [groupA, groupB].map((group) => {
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
    areaA: a.value,
    areaB: b.value,
    ...differenceOf([a.value, b.value], variance, level, "sum of variances"),
    correlation: 0,
    level,
    method: "sum of variances",
  };
}

function requireDifferentChildren(caller: string, groupA: AreaGroup, groupB: AreaGroup): void {
  if (groupA.subjects === undefined || groupB.subjects === undefined) return;
  const labels = [...Array.from(groupA.subjects), ...Array.from(groupB.subjects)];
  const { ofRow } = clustersOf(caller, labels, labels.length);
  const inA = new Set(ofRow.subarray(0, groupA.subjects.length));
  const both = new Set(ofRow.subarray(groupA.subjects.length).filter((child) => inA.has(child)));
  if (both.size > 0) {
    throw new InputError(
      `${caller} requires different children in the two groups, got ${both.size} in both`,
    );
  }
}
