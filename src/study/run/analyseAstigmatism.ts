import { doubleAngleSummary } from "../../agreement/index.js";
import { type Cohort, eyePairs } from "../../cohort/index.js";
import { shownPairs } from "../../privacy/index.js";
import type { Protocol } from "../../protocol/index.js";
import type { AstigmatismResult } from "./studyResult.js";
import { enoughForEllipse } from "./tooFew.js";
import { whoseRows } from "./whoseRows.js";

/**
 * The differences of J0 and J45 as one cloud, left eyes mirrored where both eyes are in it. Null with fewer than
 * five children, or sites that count as 4 or fewer where the protocol's intervals go by site.
 */
export function analyseAstigmatism(cohort: Cohort, protocol: Protocol): AstigmatismResult | null {
  const { eye, level, seed, audience, smallCounts } = protocol;
  const eyes = eye === "worse" ? "both" : eye;
  const [M, J0, J45] = (["M", "J0", "J45"] as const).map((quantity) =>
    // a drawn eye is matched among all that have M
    eyePairs(cohort, {
      eyes: eyes === "random" && quantity === "M" ? "both" : eyes,
      seed,
      quantity,
    }),
  );
  // an eye with both astigmatic components has M as well; rows are matched by child and eye
  const keyOf = (pairs: typeof M, row: number) =>
    2 * pairs.subjects[row] + (pairs.eye[row] === "left" ? 1 : 0);
  const spherical = new Map(
    Array.from(M.test, (value, row) => [keyOf(M, row), value - M.reference[row]]),
  );
  const rows = Array.from({ length: J0.n }, (_, row) => row).filter((row) =>
    spherical.has(keyOf(J0, row)),
  );
  const side = (row: number) => (J45.eye[row] === "left" ? -1 : 1);
  const mirrored = eyes === "both" || eyes === "random";
  const vectors = rows.map((row) => ({
    M: spherical.get(keyOf(J0, row)) as number,
    J0: J0.test[row] - J0.reference[row],
    J45: (J45.test[row] - J45.reference[row]) * (mirrored ? side(row) : 1),
  }));
  const subjects = rows.map((row) => J0.subjects[row]);
  // a cloud in three dimensions, and its ellipses, need five children
  if (new Set(subjects).size < 5) return null;
  const whose = whoseRows(cohort, protocol, subjects);
  if (!enoughForEllipse(whose)) return null;
  return {
    summary: { ...doubleAngleSummary({ vectors, ...whose }, { level }), mirrored },
    shown: shownPairs(
      { x: vectors.map(({ J0: x }) => x), y: vectors.map(({ J45: y }) => y) },
      { audience, seed, step: 0.05, smallCounts },
    ),
  };
}
