import type { TwoByTwo } from "../results/index.js";
import { costOf, type FrontAgainst } from "./ruleGoal.js";
import { frontOf } from "./sortedFront.js";

/** Places of the tables that no other beats in both, by rising sensitivity; few tables only. */
export function frontOfTables(tables: readonly TwoByTwo[], against: FrontAgainst): number[] {
  const missed = tables.map((t) => t.falseNegative / (t.truePositive + t.falseNegative));
  const gains = tables.map((table, at) => {
    const { truePositive, falsePositive, falseNegative, trueNegative } = table;
    const spared = trueNegative / (trueNegative + falsePositive);
    if (against === "specificity") return spared;
    const passed = falseNegative + trueNegative;
    if (against === "referralRate") return passed / (passed + truePositive + falsePositive);
    const cost = costOf(against.cost);
    return cost(1, 0) - cost(missed[at], spared);
  });
  return frontOf(missed, gains);
}
