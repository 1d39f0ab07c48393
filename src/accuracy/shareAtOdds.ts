// No imports here: the report's page carries this file compiled, as it is, so that the predictive
// values it shows at another prevalence come from the same formula.

/**
 * Bayes' rule on the odds scale: the share with the condition after a result whose likelihood ratio
 * is `ratio`, where the odds before it were `odds`. A ratio of 0 gives 0.
 */
export function shareAtOdds(ratio: number, odds: number): number {
  return ratio === 0 ? 0 : 1 / (1 + 1 / (ratio * odds));
}
