import type { CellFormat } from "../../results/index.js";

/** "limits-of-agreement" as "limits of agreement"; a title in words stays as it is. */
export function titleOf(kind: string): string {
  return kind.includes(" ") ? kind : wordsOf(kind.replaceAll("-", " "));
}

/** "positivePredictiveValue" as "positive predictive value"; symbols such as J45 stay. */
export function wordsOf(key: string): string {
  return key
    .replace(/([a-z])([A-Z])(?=[a-z])/g, (_, before, letter) => `${before} ${letter.toLowerCase()}`)
    .replace(/([a-z]{2})(\d)/g, "$1 $2")
    .replace(/([a-z])([A-Z])$/g, "$1 $2")
    .replace(/\b(youden|hotelling|passing bablok|deming|wald)\b/g, (names) =>
      names.replace(/\b[a-z]/g, (letter) => letter.toUpperCase()),
    );
}

const shares =
  /^(sensitivity|specificity|\w*PredictiveValue|prevalence|referralRate|falsePositiveRate|share\w*|misclassified\w*|examinedRate|rate|coverage|tippingRate|statedPrevalence|observed|expected)$/;
const probabilities = /^p([A-Z]\w*)?$|P$/;

/** How a member is printed, by its name: rates in percent, p by its own rule. */
export function formatOf(key: string, value: unknown): CellFormat {
  if (probabilities.test(key)) return "p";
  if (typeof value === "number") {
    return shares.test(key) && value >= 0 && value <= 1 ? "percent" : "number";
  }
  return key === "within" || shares.test(key) ? "percent" : "number";
}
