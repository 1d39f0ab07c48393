import { didYouMean, InputError } from "../../results/index.js";
import type { OwnColumn } from "../types.js";

/** Limits of age in months or in completed years: from (included) to (left out). */
export interface AgeLimits {
  readonly ageMonths?: readonly [number, number];
  readonly ageYears?: readonly [number, number];
  /**
   * By the user's own columns: the words that are eligible, or numbers from (included) to (left out). Who
   * has no value cannot be shown to be eligible, and is not.
   */
  readonly own?: Readonly<Record<string, readonly string[] | readonly [number, number]>>;
}

export type Eligibility = "eligible" | "not-eligible" | "age-unclear";

/**
 * Who is eligible by age. A child whose age is known only in whole years stands for all twelve
 * months of that year; where a limit falls among them the child is "age-unclear".
 */
export function eligibility(
  age: { readonly months: Float64Array; readonly years: Float64Array },
  limits: AgeLimits | undefined,
  own: readonly OwnColumn[] = [],
): Eligibility[] {
  const isEligible = Object.entries(limits?.own ?? {}).map(([label, wanted]) =>
    ownCondition(own, label, wanted),
  );
  return Array.from(age.months, (months, child) => {
    if (isEligible.some((holds) => !holds(child))) return "not-eligible";
    if (limits?.ageMonths === undefined && limits?.ageYears === undefined) return "eligible";
    const years = age.years[child];
    const low = Number.isNaN(months) ? years * 12 : months;
    const high = Number.isNaN(months) ? years * 12 + 11 : months;
    if (Number.isNaN(low)) return "age-unclear";
    let verdict: Eligibility = "eligible";
    const bands = [limits.ageMonths, limits.ageYears?.map((limit) => limit * 12)];
    for (const band of bands) {
      if (band === undefined) continue;
      if (high < band[0] || low >= band[1]) return "not-eligible";
      if (low < band[0] || high >= band[1]) verdict = "age-unclear";
    }
    return verdict;
  });
}

function ownCondition(
  own: readonly OwnColumn[],
  label: string,
  wanted: readonly string[] | readonly [number, number],
): (child: number) => boolean {
  const column = own.find((one) => one.label === label);
  if (column === undefined) {
    const labels = own.map((one) => one.label);
    throw new InputError(
      `linkCohort requires own columns in eligibility, got "${label}"; ${didYouMean(label, labels)}`,
    );
  }
  const numbers = wanted.filter((one) => typeof one === "number");
  if (column.type === "number" && wanted.length === 2 && numbers.length === 2) {
    const [from, to] = numbers as [number, number];
    return (child) => column.values[child] >= from && column.values[child] < to;
  }
  if (column.type === "words" && wanted.length > 0 && numbers.length === 0) {
    const accepted = column.values.labels.map(
      (word) => word !== "" && (wanted as readonly string[]).includes(word),
    );
    return (child) => accepted[column.values.codes[child]];
  }
  throw new InputError(
    `linkCohort requires ${column.type === "number" ? "from and to, two numbers," : "a list of words"} for ${label} in eligibility, got ${JSON.stringify(wanted)}`,
  );
}
