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
  /** Of the unverified, those known all the same: they stand for nobody, but bounds keep them. */
  readonly foundMeanwhile?: TwoByTwo | readonly TwoByTwo[];
}

/** One stratum as the estimators use it. */
export interface Stratum {
  readonly verified: TwoByTwo;
  readonly unverified: Unverified;
  readonly foundMeanwhile: TwoByTwo;
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
  const meanwhile =
    counts.foundMeanwhile === undefined
      ? verified.map(() => nobody)
      : asArray(counts.foundMeanwhile);
  if (meanwhile.length !== verified.length) {
    throw new InputError(
      `${caller} requires foundMeanwhile for each of ${verified.length} strata, got ${meanwhile.length}`,
    );
  }
  return verified.map((table, k) => {
    requireTable(caller, table);
    const found = requireTable(caller, meanwhile[k]);
    const rest = unverified[k];
    requireCount(caller, "testPositive", rest.testPositive);
    requireCount(caller, "testNegative", rest.testNegative);
    if (
      found.truePositive + found.falsePositive > rest.testPositive ||
      found.falseNegative + found.trueNegative > rest.testNegative
    ) {
      throw new InputError(
        `${caller} requires foundMeanwhile to be among the unverified, got more of them; count those who stand for nobody as unverified too`,
      );
    }
    const examinedPositives = table.truePositive + table.falsePositive;
    const examinedNegatives = table.falseNegative + table.trueNegative;
    return {
      verified: table,
      unverified: rest,
      foundMeanwhile: found,
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

/** Everybody who is known, whatever they were examined for, and the others; strata added up. */
export function knownCounts(strata: readonly Stratum[]): PooledCounts {
  const { verified, unverified, foundMeanwhile } = pooledStratum(strata);
  const known = (cell: keyof TwoByTwo) => verified[cell] + foundMeanwhile[cell];
  return {
    verified: {
      truePositive: known("truePositive"),
      falsePositive: known("falsePositive"),
      falseNegative: known("falseNegative"),
      trueNegative: known("trueNegative"),
    },
    unverified: {
      testPositive:
        unverified.testPositive - foundMeanwhile.truePositive - foundMeanwhile.falsePositive,
      testNegative:
        unverified.testNegative - foundMeanwhile.falseNegative - foundMeanwhile.trueNegative,
    },
  };
}

/** Strata added up. */
export function pooledStratum(strata: readonly Stratum[]): Stratum {
  const total = (pick: (stratum: Stratum) => number) =>
    strata.reduce((sum, stratum) => sum + pick(stratum), 0);
  const table = (pick: (stratum: Stratum) => TwoByTwo): TwoByTwo => ({
    truePositive: total((s) => pick(s).truePositive),
    falsePositive: total((s) => pick(s).falsePositive),
    falseNegative: total((s) => pick(s).falseNegative),
    trueNegative: total((s) => pick(s).trueNegative),
  });
  return {
    verified: table((s) => s.verified),
    foundMeanwhile: table((s) => s.foundMeanwhile),
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

const nobody: TwoByTwo = { truePositive: 0, falsePositive: 0, falseNegative: 0, trueNegative: 0 };

const asArray = <T extends object>(value: T | readonly T[]): readonly T[] =>
  Array.isArray(value) ? (value as readonly T[]) : [value as T];
