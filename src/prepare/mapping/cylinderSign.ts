import { readPrescription } from "../../refraction/index.js";
import { plainNumber } from "../detect/columnFacts.js";
import type { DetectedColumn } from "../detect/detected.js";
import { ranges } from "../detect/ranges.js";
import { prescriptionsOf } from "./prescriptionsOf.js";

/**
 * The sign that cylinders are written with, counted over all rows: one sign where every cylinder has it,
 * else "either", so that the rarer one is listed.
 */
export function cylinderSign(columns: readonly DetectedColumn[]): "minus" | "plus" | "either" {
  let [negative, positive] = [0, 0];
  for (const column of columns) {
    const { is, facts } = column;
    if (is === "cylinder") {
      // a number beyond any cylinder is a code for nothing, and no sign
      for (const [text, times] of facts.cells) {
        const cylinder = plainNumber(text);
        if (Math.abs(cylinder) > ranges.cylinder[1]) continue;
        if (cylinder < 0) negative += times;
        if (cylinder > 0) positive += times;
      }
    }
    if (is !== "prescription") continue;
    for (const [text, times] of prescriptionsOf(column)) {
      const cylinder = cylinderOf(text);
      if (cylinder < 0) negative += times;
      if (cylinder > 0) positive += times;
    }
  }
  if (negative > 0 && positive === 0) return "minus";
  return positive > 0 && negative === 0 ? "plus" : "either";
}

function cylinderOf(text: string): number {
  try {
    return readPrescription(text).prescription.cylinder;
  } catch {
    return 0;
  }
}
