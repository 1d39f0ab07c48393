/** Who was examined, and within which strata a random share of them was. */
export interface VerificationColumns {
  /** true or 1 for examined rows. */
  readonly examined: ArrayLike<boolean | number>;
  /** Stratum of each row, such as its screening result; examination is random within one. */
  readonly strata: ArrayLike<string | number>;
}
