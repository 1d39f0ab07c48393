import { measurementStatuses } from "../cohort/index.js";
import { noRow, type RuleColumns, type RuleEyeColumns } from "./columns/ruleColumns.js";
import type { RuleChild, RuleEye } from "./types.js";

/** One child of the columns, as `applyRule` takes one child. */
export function childAt(columns: RuleColumns, child: number): RuleChild {
  return {
    ageMonths: known(columns.ageMonths?.[child]),
    ageYears: known(columns.ageYears?.[child]),
    right: eyeAt(columns.right, child),
    left: eyeAt(columns.left, child),
  };
}

function eyeAt(eye: RuleEyeColumns, child: number): RuleEye | null {
  const status = eye.status?.[child];
  if (status === noRow) return null;
  return {
    sphere: known(eye.sphere[child]),
    cylinder: known(eye.cylinder[child]),
    axis: known(eye.axis[child]),
    status: status === undefined ? undefined : measurementStatuses[status],
    pupilMm: known(eye.pupilMm?.[child]),
    gazeHorizontal: known(eye.gazeHorizontal?.[child]),
    gazeVertical: known(eye.gazeVertical?.[child]),
    acuityLogMAR: known(eye.acuityLogMAR?.[child]),
    strabismus: yesOrNo(eye.strabismus?.[child]),
    mediaOpacity: yesOrNo(eye.mediaOpacity?.[child]),
    ptosis: yesOrNo(eye.ptosis?.[child]),
  };
}

function known(value: number | undefined): number | null {
  return value === undefined || Number.isNaN(value) ? null : value;
}

function yesOrNo(value: number | undefined): boolean | null {
  return value === undefined || Number.isNaN(value) ? null : value === 1;
}
