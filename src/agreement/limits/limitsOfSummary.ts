import { exactLimits, type LimitEstimates } from "./limitIntervals.js";
import { independentModel } from "./limitModel.js";

/** Bias, SD and limits with the intervals that so many independent normal differences would have. */
export function limitsOfSummary(
  { bias, sd, n }: { readonly bias: number; readonly sd: number; readonly n: number },
  { multiplier, level }: { readonly multiplier: number; readonly level: number },
): LimitEstimates {
  const model = independentModel(n, bias, (n - 1) * sd * sd);
  return exactLimits(model, n, multiplier, level, "each");
}
