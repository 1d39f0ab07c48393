import {
  chiSquareTail,
  newcombePaired,
  type PairedCounts,
  symmetricEstimate,
} from "../../inference/index.js";
import { type Estimate, type Undefined, undefinedBecause } from "../../results/index.js";

/** A test with one degree of freedom. */
export interface ChiSquareTest {
  readonly chiSquare: number;
  readonly df: number;
  readonly p: number;
}

/** Two proportions of the same clustered rows. */
export interface ClusteredPaired {
  /** Children with a row here. */
  readonly children: number;
  readonly difference: Estimate | Undefined;
  /** McNemar's test for clusters by Obuchowski 1998 (sums) and by Durkalski 2003 (means). */
  readonly obuchowski: ChiSquareTest;
  readonly durkalski: ChiSquareTest;
}

/**
 * Difference of two paired proportions, first minus second, whose rows cluster in children.
 * `rows` holds each child's number of rows, `excess` its first-only minus its second-only rows.
 * The interval is symmetric with the ratio estimator's variance, cut at -1 and 1; where that variance
 * is 0 (no discordant row, or as many per row in every child), Newcombe's on one row a child, labelled.
 */
export function clusteredPaired(
  rows: ArrayLike<number>,
  excess: ArrayLike<number>,
  counts: PairedCounts,
  level: number,
): ClusteredPaired {
  let children = 0;
  let n = 0;
  let sum = 0;
  let squares = 0;
  let means = 0;
  let meanSquares = 0;
  for (let child = 0; child < rows.length; child++) {
    if (rows[child] === 0) continue;
    children++;
    n += rows[child];
    sum += excess[child];
    squares += excess[child] ** 2;
    means += excess[child] / rows[child];
    meanSquares += (excess[child] / rows[child]) ** 2;
  }
  const factor = children > 1 ? (children - 1) / children : 0;
  return {
    children,
    difference: difference(),
    obuchowski: test(squares > 0 ? (factor * sum ** 2) / squares : 0),
    durkalski: test(meanSquares > 0 ? means ** 2 / meanSquares : 0),
  };

  function difference(): Estimate | Undefined {
    if (n === 0) return undefinedBecause("no pairs");
    if (children < 2) return undefinedBecause("rows of fewer than 2 children");
    const value = sum / n;
    // n times each child's excess over its share, in whole numbers: 0 is exactly 0
    let variance = 0;
    for (let child = 0; child < rows.length; child++) {
      variance += (n * excess[child] - rows[child] * sum) ** 2;
    }
    if (variance === 0) {
      const scaled = (count: number) => (count * children) / n;
      const interval = newcombePaired(
        {
          both: scaled(counts.both),
          firstOnly: scaled(counts.firstOnly),
          secondOnly: scaled(counts.secondOnly),
          neither: scaled(counts.neither),
        },
        level,
      );
      return interval.kind === "estimate"
        ? { ...interval, method: "newcombe-on-children" }
        : interval;
    }
    const se = Math.sqrt((children / (children - 1)) * variance) / n ** 2;
    const interval = symmetricEstimate(value, se, level, "clustered-wald");
    return { ...interval, low: Math.max(-1, interval.low), high: Math.min(1, interval.high) };
  }
}

function test(chiSquare: number): ChiSquareTest {
  return { chiSquare, df: 1, p: chiSquareTail(chiSquare, 1) };
}
