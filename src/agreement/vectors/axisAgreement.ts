import { quantileSorted } from "simple-statistics";
import { requireLevel } from "../../inference/index.js";
import {
  type Estimate,
  InputError,
  type Undefined,
  undefinedBecause,
} from "../../results/index.js";
import {
  type ClusterColumns,
  childrenOf,
  meets,
  requirePairs,
  takeClusters,
} from "../../rows/index.js";
import { type LimitsOfAgreement, limitsOfAgreement } from "../limits/limitsOfAgreement.js";
import { shareOfRows } from "../shareOfRows.js";

/** Cylinder and axis of one eye, minus-cylinder form; the axis is null where the cylinder is 0. */
export interface CylinderAndAxis {
  readonly cylinder: number;
  readonly axis: number | null;
}

/** Agreement of cylinder and axis, axes compared beyond a stated cylinder only. */
export interface AxisAgreement {
  readonly kind: "axis-agreement";
  readonly n: number;
  readonly subjects: number;
  readonly level: number;
  /** Test minus reference of the cylinder, minus form. */
  readonly cylinder: LimitsOfAgreement;
  /** Both cylinders are at least so strong where the axis is compared. */
  readonly cylinderAtLeast: number;
  /** Rows in which the axis was compared. */
  readonly axisRows: number;
  /** Percentiles of the axis difference, degrees, folded to 0 to 90. */
  readonly axisDifference: { readonly median: number; readonly ninetyFifth: number } | Undefined;
  readonly within: readonly { readonly degrees: number; readonly share: Estimate | Undefined }[];
  readonly note: string;
}

/**
 * Cylinder and axis compared as the trade asks for it. The axis difference is folded to 0 to 90
 * degrees (175 and 5 differ by 10) and taken only where both cylinders are at least the stated
 * strength, because the axis of a weak cylinder means little. It weighs 10 degrees of 0.50 D like 10
 * degrees of 5.00 D and cannot be averaged with the power: `vectorAgreement` is the right answer.
 *
 * @param data cylinder in dioptres, minus form, and axis in degrees; `axisDifference` is undefined
 *   where no row has both cylinders strong enough
 * @throws when columns differ in length, a plus cylinder is found, or an axis is missing where the
 * cylinder is not 0
 *
 * @example
 * const test = [{ cylinder: -1, axis: 175 }, { cylinder: -1, axis: 90 }, { cylinder: -0.25, axis: 40 }];
 * const reference = [{ cylinder: -1, axis: 5 }, { cylinder: -1.5, axis: 88 }, { cylinder: -0.25, axis: 120 }];
 * axisAgreement({ test, reference }).axisRows // => 2
 * axisAgreement({ test, reference }).axisDifference.median // => 6
 */
export function axisAgreement(
  data: {
    readonly test: ArrayLike<CylinderAndAxis>;
    readonly reference: ArrayLike<CylinderAndAxis>;
  } & ClusterColumns,
  options: {
    /** Dioptres, 0.75 by default (common practice, no source). */
    readonly cylinderAtLeast?: number;
    /** Degrees for the shares; 5, 10 and 20 by default. */
    readonly degrees?: readonly number[];
    readonly level?: number;
  } = {},
): AxisAgreement {
  const caller = "axisAgreement";
  const { cylinderAtLeast = 0.75, degrees = [5, 10, 20] } = options;
  const level = requireLevel(caller, options.level ?? 0.95);
  if (!(cylinderAtLeast > 0)) {
    throw new InputError(`${caller} requires a positive cylinderAtLeast, got ${cylinderAtLeast}`);
  }
  const [test, reference] = [data.test, data.reference].map((rows) =>
    Array.from(rows, (row, index) => requireCylinder(row, index)),
  );
  const n = requirePairs(caller, { test, reference }, 3);
  const children = childrenOf(caller, data, n).count;
  const { subjects, clusters } = data;
  const strong = { relation: "<=", limit: -cylinderAtLeast } as const;
  const rows: number[] = [];
  for (let row = 0; row < n; row++) {
    if (meets(Math.max(test[row], reference[row]), strong)) rows.push(row);
  }
  const differences = rows.map((row) =>
    foldedAxisDifference(data.test[row].axis as number, data.reference[row].axis as number),
  );
  const sorted = [...differences].sort((a, b) => a - b);
  const share = shareOfRows(caller, takeClusters(data, rows), rows.length, level);
  return {
    kind: "axis-agreement",
    n,
    subjects: children,
    level,
    cylinder: limitsOfAgreement(
      { test, reference, subjects, clusters },
      { level, conditional: "skip" },
    ),
    cylinderAtLeast,
    axisRows: rows.length,
    axisDifference:
      rows.length === 0
        ? undefinedBecause(`no row has both cylinders of ${cylinderAtLeast} D or more`)
        : { median: quantileSorted(sorted, 0.5), ninetyFifth: quantileSorted(sorted, 0.95) },
    within:
      rows.length === 0
        ? []
        : degrees.map((limit) => ({
            degrees: limit,
            share: share((row) => meets(differences[row], { relation: "<=", limit })),
          })),
    note:
      "Axis differences ignore the strength of the cylinder and leave out weak ones; agreement in " +
      "J0 and J45 (vectorAgreement) uses every eye and keeps strength and direction together.",
  };
}

/** Difference of two axes, degrees, folded to 0 to 90. */
export function foldedAxisDifference(first: number, second: number): number {
  const turned = Math.abs(first - second) % 180;
  return Math.min(turned, 180 - turned);
}

function requireCylinder(row: CylinderAndAxis, index: number): number {
  if (row.cylinder > 0) {
    throw new InputError(
      `axisAgreement requires minus cylinders, got ${row.cylinder} at row ${index}; transpose first`,
    );
  }
  if (row.cylinder !== 0 && !Number.isFinite(row.axis)) {
    throw new InputError(
      `axisAgreement requires an axis where the cylinder is not 0, got ${row.axis} at row ${index}`,
    );
  }
  return row.cylinder;
}
