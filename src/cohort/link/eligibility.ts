/** Limits of age in months or in completed years: from (included) to (left out). */
export interface AgeLimits {
  readonly ageMonths?: readonly [number, number];
  readonly ageYears?: readonly [number, number];
}

export type Eligibility = "eligible" | "not-eligible" | "age-unclear";

/**
 * Who is eligible by age. A child whose age is known only in whole years stands for all twelve
 * months of that year; where a limit falls among them the child is "age-unclear".
 */
export function eligibility(
  age: { readonly months: Float64Array; readonly years: Float64Array },
  limits: AgeLimits | undefined,
): Eligibility[] {
  return Array.from(age.months, (months, child) => {
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
