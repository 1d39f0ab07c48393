import { InputError, type TwoByTwo } from "../../results/index.js";
import { requireCount, requireTable } from "../requireTable.js";

/** Children whose condition is unknown, by test result. */
export interface Unverified {
  readonly testPositive: number;
  readonly testNegative: number;
}

/** Counts of the examined and of the unexamined; arrays are strata, in one order. */
export interface VerificationCounts {
  readonly verified: TwoByTwo | readonly TwoByTwo[];
  readonly unverified: Unverified | readonly Unverified[];
}

/** One stratum as the estimators use it. */
export interface Stratum {
  readonly verified: TwoByTwo;
  readonly unverified: Unverified;
  /** All test-positive and test-negative children, and how many of each were examined. */
  readonly positives: number;
  readonly negatives: number;
  readonly examinedPositives: number;
  readonly examinedNegatives: number;
}

/** The strata, checked; empty ones are kept. */
export function verificationStrata(caller: string, counts: VerificationCounts): Stratum[] {
  const verified = asArray(counts.verified);
  const unverified = asArray(counts.unverified);
  if (verified.length !== unverified.length || verified.length === 0) {
    throw new InputError(
      `${caller} requires as many verified as unverified strata, got ${verified.length} and ${unverified.length}`,
    );
  }
  return verified.map((table, k) => {
    requireTable(caller, table);
    const rest = unverified[k];
    requireCount(caller, "testPositive", rest.testPositive);
    requireCount(caller, "testNegative", rest.testNegative);
    const examinedPositives = table.truePositive + table.falsePositive;
    const examinedNegatives = table.falseNegative + table.trueNegative;
    return {
      verified: table,
      unverified: rest,
      positives: examinedPositives + rest.testPositive,
      negatives: examinedNegatives + rest.testNegative,
      examinedPositives,
      examinedNegatives,
    };
  });
}

/** Counts of the examined and of the unexamined, strata added up. */
export interface PooledCounts {
  readonly verified: TwoByTwo;
  readonly unverified: Unverified;
}

/** The counts of strata added up. */
export function pooledCounts(strata: readonly Stratum[]): PooledCounts {
  const { verified, unverified } = pooledStratum(strata);
  return { verified, unverified };
}

/** Strata added up. */
export function pooledStratum(strata: readonly Stratum[]): Stratum {
  const total = (pick: (stratum: Stratum) => number) =>
    strata.reduce((sum, stratum) => sum + pick(stratum), 0);
  return {
    verified: {
      truePositive: total((s) => s.verified.truePositive),
      falsePositive: total((s) => s.verified.falsePositive),
      falseNegative: total((s) => s.verified.falseNegative),
      trueNegative: total((s) => s.verified.trueNegative),
    },
    unverified: {
      testPositive: total((s) => s.unverified.testPositive),
      testNegative: total((s) => s.unverified.testNegative),
    },
    positives: total((s) => s.positives),
    negatives: total((s) => s.negatives),
    examinedPositives: total((s) => s.examinedPositives),
    examinedNegatives: total((s) => s.examinedNegatives),
  };
}

const asArray = <T extends object>(value: T | readonly T[]): readonly T[] =>
  Array.isArray(value) ? (value as readonly T[]) : [value as T];
