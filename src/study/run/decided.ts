import type { Referred } from "../../rows/index.js";
import type { UndecidableCause } from "../../rules/index.js";

/** Screened children who are in no row, as a rule cannot decide them by their age. */
export interface UndecidedByAge {
  readonly by: "reading" | "finding";
  readonly cause: Exclude<UndecidableCause, "decided" | "missing-value">;
  readonly children: number;
}

/** A reading against a limit, and its value where it was measured (else NaN). */
export interface LimitTest {
  readonly test: Referred;
  readonly value: number;
}
