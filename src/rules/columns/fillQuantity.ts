import { measurementStatuses } from "../../cohort/index.js";
import { combinePrisms, gazeToPrism } from "../../refraction/index.js";
import { toThousandths } from "../../rows/index.js";
import { beyond, type Leaf } from "../compileRule.js";
import { isOblique } from "../eyeValue.js";
import { fillVector } from "./fillVector.js";
import { missing } from "./missing.js";
import type { RuleColumns, RuleEyeColumns } from "./ruleColumns.js";

const overRange = measurementStatuses.indexOf("over-range");
const underRange = measurementStatuses.indexOf("under-range");

/** A limit's quantity in one eye of the children from `start` on, in thousandths. */
export function fillEye(leaf: Leaf, eye: RuleEyeColumns, start: number, into: Int32Array): void {
  const { criterion, quantity } = leaf.limit;
  switch (criterion) {
    case "strabismus":
    case "mediaOpacity":
    case "ptosis":
      fillColumn(eye[criterion], start, into);
      break;
    case "acuity":
      fillColumn(eye.acuityLogMAR, start, into);
      break;
    case "gazeDeviation":
      fillGaze(leaf, eye, start, into);
      break;
    case "astigmatism":
    case "obliqueAstigmatism":
      fillCylinder(leaf, eye, start, into);
      break;
    default:
      fillPower(quantity!, eye, start, into);
      fillBeyondRange(quantity!, eye, start, into);
  }
}

/** A pair's difference, in thousandths. */
export function fillPair(
  { limit }: Leaf,
  columns: RuleColumns,
  start: number,
  into: Int32Array,
): void {
  const { right, left } = columns;
  const quantity = limit.quantity!;
  switch (quantity) {
    case "J0":
    case "J45":
    case "greatestMeridian":
    case "vector":
      fillVector(quantity, limit.mirror === true, columns, start, into);
      break;
    case "pupilMm":
      fillDifference(right.pupilMm, left.pupilMm, start, into);
      break;
    case "logMAR":
      fillDifference(right.acuityLogMAR, left.acuityLogMAR, start, into);
      break;
    default:
      fillPowerDifference(quantity, columns, start, into);
  }
}

function fillPower(
  quantity: string,
  { sphere, cylinder }: RuleEyeColumns,
  start: number,
  into: Int32Array,
): void {
  // the sphere, plus a half of the cylinder, plus a half of its size with a sign
  const half = quantity === "M" ? 0 : 0.5;
  const sign = quantity === "mostNegativeMeridian" ? -half : half;
  const none = missing;
  for (let at = 0; at < into.length; at++) {
    const C = cylinder[start + at];
    const value = sphere[start + at] + (C / 2 + sign * Math.abs(C));
    into[at] = Number.isNaN(value) ? none : toThousandths(value);
  }
}

function fillPowerDifference(
  quantity: string,
  { right, left }: RuleColumns,
  start: number,
  into: Int32Array,
): void {
  const spheres = quantity === "cylinder" ? 0 : 1;
  const half = quantity === "M" || quantity === "cylinder" ? 0 : 0.5;
  const sign = quantity === "mostNegativeMeridian" ? -half : half;
  const none = missing;
  for (let at = 0; at < into.length; at++) {
    const row = start + at;
    const C = right.cylinder[row];
    const D = left.cylinder[row];
    const value =
      spheres === 0
        ? Math.abs(C) - Math.abs(D)
        : right.sphere[row] +
          (C / 2 + sign * Math.abs(C)) -
          (left.sphere[row] + (D / 2 + sign * Math.abs(D)));
    into[at] = Number.isNaN(value) ? none : toThousandths(Math.abs(value));
  }
}

function fillBeyondRange(
  quantity: string,
  { status }: RuleEyeColumns,
  start: number,
  into: Int32Array,
): void {
  if (status === undefined) return;
  const above = quantity !== "mostNegativeMeridian";
  const below = quantity === "mostNegativeMeridian" || quantity === "M";
  const [over, under, far] = [overRange, underRange, beyond];
  for (let at = 0; at < into.length; at++) {
    const code = status[start + at];
    if (code === 0) continue;
    if (above && code === over) into[at] = far;
    if (below && code === under) into[at] = -far;
  }
}

function fillCylinder(
  { limit: { degreesOff } }: Leaf,
  { cylinder, axis }: RuleEyeColumns,
  start: number,
  into: Int32Array,
): void {
  const none = missing;
  if (degreesOff === undefined) {
    for (let at = 0; at < into.length; at++) {
      const value = Math.abs(cylinder[start + at]);
      into[at] = Number.isNaN(value) ? none : toThousandths(value);
    }
    return;
  }
  const wholeDegrees = obliqueDegrees(degreesOff);
  const off = degreesOff;
  for (let at = 0; at < into.length; at++) {
    const value = Math.abs(cylinder[start + at]);
    const A = axis[start + at];
    const whole = A | 0;
    if (Number.isNaN(value)) into[at] = none;
    // all bits where oblique
    else if (whole === A) into[at] = toThousandths(value) & wholeDegrees[whole];
    else if (Number.isNaN(A)) into[at] = value === 0 ? 0 : none;
    else into[at] = isOblique(A, off) ? toThousandths(value) : 0;
  }
}

const obliqueTables = new Map<number, Int32Array>();

/** All bits for the whole degrees that are oblique. */
function obliqueDegrees(off: number): Int32Array {
  let table = obliqueTables.get(off);
  if (table === undefined) {
    table = Int32Array.from({ length: 181 }, (_, axis) => (isOblique(axis, off) ? -1 : 0));
    obliqueTables.set(off, table);
  }
  return table;
}

function fillGaze({ limit }: Leaf, eye: RuleEyeColumns, start: number, into: Int32Array): void {
  const prism = (column: Float64Array | undefined, at: number) => {
    const degrees = column?.[start + at] ?? Number.NaN;
    return Number.isNaN(degrees) ? degrees : gazeToPrism(degrees);
  };
  for (let at = 0; at < into.length; at++) {
    const horizontal = limit.quantity === "vertical" ? 0 : prism(eye.gazeHorizontal, at);
    const vertical = limit.quantity === "horizontal" ? 0 : prism(eye.gazeVertical, at);
    into[at] = Number.isNaN(horizontal + vertical)
      ? missing
      : toThousandths(combinePrisms({ horizontal, vertical }).prism);
  }
}

function fillColumn(column: Float64Array | undefined, start: number, into: Int32Array): void {
  if (column === undefined) {
    into.fill(missing);
    return;
  }
  const none = missing;
  for (let at = 0; at < into.length; at++) {
    const value = column[start + at];
    into[at] = Number.isNaN(value) ? none : toThousandths(value);
  }
}

function fillDifference(
  right: Float64Array | undefined,
  left: Float64Array | undefined,
  start: number,
  into: Int32Array,
): void {
  const none = missing;
  for (let at = 0; at < into.length; at++) {
    const value = (right?.[start + at] ?? Number.NaN) - (left?.[start + at] ?? Number.NaN);
    into[at] = Number.isNaN(value) ? none : toThousandths(Math.abs(value));
  }
}
