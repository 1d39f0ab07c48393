import type { VectorAgreement } from "../../agreement/index.js";
import { doubleAngleFigure } from "../../figures/index.js";
import { mirrorEye } from "../../refraction/index.js";
import type { FigureSpec } from "../../results/index.js";
import type { DrawnVectors } from "./view.js";

/** Differences in astigmatism, test minus reference, on the double-angle plane. */
export function vectorDifferenceFigure(
  { n, ellipses, mirrored, audience }: VectorAgreement,
  rows: DrawnVectors,
): FigureSpec {
  const points = Array.from(rows.test, (test, row) => {
    const reference = rows.reference[row]!;
    const difference = {
      M: test.M - reference.M,
      J0: test.J0 - reference.J0,
      J45: test.J45 - reference.J45,
    };
    return mirrored && rows.eyes?.[row] === "left" ? mirrorEye(difference) : difference;
  });
  return doubleAngleFigure(
    [
      {
        label: labelOf(mirrored ? [...new Set(rows.eyes)] : []),
        n,
        ellipses: [ellipses.centroid, ellipses.eyes],
        points,
        audience: rows.audience ?? audience,
      },
    ],
    { quantity: "the difference, test minus reference", of: "difference" },
  );
}

function labelOf(eyes: readonly string[]): string {
  if (eyes.length === 1) return `${eyes[0]} eyes`;
  return eyes.length === 2 ? "all eyes, left mirrored" : "eyes";
}
