/** One printed number beside the recomputed one. */
export interface ComparedNumber {
  readonly label: string;
  /** What is compared, such as "sensitivity" or "limits". */
  readonly item: string;
  readonly printed: string;
  /** Recomputed, with the printed decimals; null where print allows none. */
  readonly recomputed: string | null;
  /** Recomputed minus printed, in the printed unit; null where there is none. */
  readonly difference: number | null;
  readonly verdict: PrintedVerdict;
  /** How it was recomputed, or what may have gone wrong. */
  readonly cause: string;
}

/** "derived" is a number that print does not give and that follows from those it gives. */
export type PrintedVerdict = "reproduced" | "not reproduced" | "undecided" | "derived";
