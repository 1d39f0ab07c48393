/** Counts of a yes/no test against a yes/no condition. */
export interface TwoByTwo {
  readonly truePositive: number;
  readonly falsePositive: number;
  readonly falseNegative: number;
  readonly trueNegative: number;
}
