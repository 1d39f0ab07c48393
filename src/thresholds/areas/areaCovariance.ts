import { type Clusters, sum } from "../../rows/index.js";

/** A variance with the parts of the two classes. */
export interface AreaVariance {
  readonly value: number;
  readonly ofCases: number;
  readonly ofControls: number;
  /** Children with rows of each class. */
  readonly caseUnits: number;
  readonly controlUnits: number;
}

/**
 * Covariance matrix of the areas of several tests on the same rows: DeLong and others 1988 when
 * every row is a child of its own, Obuchowski 1997 when children have several rows (sums within a
 * child, with the cross term of children who have rows of both classes).
 *
 * @param deviations for each test, each row's placement minus the area, times its weight
 * @param totals sums of weights (numbers of rows) with and without the condition
 */
export function areaCovariance(
  deviations: readonly Float64Array[],
  codes: Uint8Array,
  clusters: Clusters | null,
  totals: Totals,
): number[][] {
  const count = clusters?.count ?? codes.length;
  const sums = deviations.map((ofRow) => sumByClass(ofRow, codes, clusters, count));
  const { ofCases, ofControls, ofCross } = factors(codes, clusters, totals);
  return sums.map((a) =>
    sums.map(
      (b) =>
        ofCases * dot(a[1], b[1]) +
        ofControls * dot(a[0], b[0]) +
        ofCross * (dot(a[1], b[0]) + dot(a[0], b[1])),
    ),
  );
}

/** Variance of one area, likewise, with its parts. */
export function areaVariance(
  deviations: Float64Array,
  codes: Uint8Array,
  clusters: Clusters | null,
  totals: Totals,
): AreaVariance {
  const count = clusters?.count ?? codes.length;
  const [controls, cases] = sumByClass(deviations, codes, clusters, count);
  const factor = factors(codes, clusters, totals);
  const ofCases = factor.ofCases * dot(cases, cases);
  const ofControls = factor.ofControls * dot(controls, controls);
  return {
    value: ofCases + ofControls + 2 * factor.ofCross * dot(cases, controls),
    ofCases,
    ofControls,
    caseUnits: factor.caseUnits,
    controlUnits: factor.controlUnits,
  };
}

interface Totals {
  readonly totalWith: number;
  readonly totalWithout: number;
}

function factors(
  codes: Uint8Array,
  clusters: Clusters | null,
  { totalWith, totalWithout }: Totals,
) {
  const count = clusters?.count ?? codes.length;
  const present = [new Uint8Array(count), new Uint8Array(count)];
  for (let row = 0; row < codes.length; row++) {
    present[codes[row]][clusters === null ? row : clusters.ofRow[row]] = 1;
  }
  const [controlUnits, caseUnits] = present.map((flags) => sum(flags));
  return {
    caseUnits,
    controlUnits,
    ofCases: correction(caseUnits) / totalWith ** 2,
    ofControls: correction(controlUnits) / totalWithout ** 2,
    // 0 beside rows of their own: none is of both classes
    ofCross: correction(count) / (totalWith * totalWithout),
  };
}

const correction = (count: number): number => count / (count - 1);

function sumByClass(
  ofRow: Float64Array,
  codes: Uint8Array,
  clusters: Clusters | null,
  count: number,
): readonly [Float64Array, Float64Array] {
  const sums = [new Float64Array(count), new Float64Array(count)] as const;
  for (let row = 0; row < codes.length; row++) {
    sums[codes[row] === 1 ? 1 : 0][clusters === null ? row : clusters.ofRow[row]] += ofRow[row];
  }
  return sums;
}

function dot(a: Float64Array, b: Float64Array): number {
  let result = 0;
  for (let at = 0; at < a.length; at++) result += a[at] * b[at];
  return result;
}
