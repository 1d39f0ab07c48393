/**
 * Bayes' rule on the odds scale: the share with the condition after a result whose likelihood ratio
 * is `ratio`, where the odds before it were `odds`. A ratio of 0 gives 0.
 *
 * The report's page carries the text of this function, which therefore names nothing outside itself.
 */
export function shareAtOdds(ratio: number, odds: number): number {
  return ratio === 0 ? 0 : 1 / (1 + 1 / (ratio * odds));
}
