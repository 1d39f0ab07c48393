import type { Mistake } from "../rules/index.js";

/** The rates that may be asked of a condition. */
export const askedRates = ["sensitivity", "specificity"] as const;

interface LeastRates {
  readonly sensitivityAtLeast?: number;
  readonly specificityAtLeast?: number;
}

/** What of a protocol is looked at here. */
interface Choices {
  readonly criteria?: LeastRates & { readonly withinAcceptableAtLeast?: number };
  readonly conditions: readonly {
    readonly id: string;
    readonly role: "confirmatory" | "exploratory";
    readonly criteria?: LeastRates;
  }[];
}

/** One thing asked in advance; of the agreement where `condition` is null. */
export interface Criterion {
  readonly measure: (typeof askedRates)[number] | "withinAcceptable";
  readonly condition: string | null;
  readonly least: number;
}

/** All that a protocol asks in advance: of each confirmatory condition, then of the agreement. */
export function criteriaOf({ criteria, conditions }: Choices): readonly Criterion[] {
  const asked: Criterion[] = conditions
    .filter(({ role }) => role === "confirmatory")
    .flatMap((condition) =>
      askedRates.flatMap((measure) => {
        const key = `${measure}AtLeast` as const;
        const least = condition.criteria?.[key] ?? criteria?.[key];
        return least === undefined ? [] : [{ measure, condition: condition.id, least }];
      }),
    );
  const within = criteria?.withinAcceptableAtLeast;
  return within === undefined
    ? asked
    : [...asked, { measure: "withinAcceptable", condition: null, least: within }];
}

/** Criteria that ask nothing, or of nothing that could give a verdict. */
export function criteriaMistakes({ criteria, conditions }: Choices): Mistake[] {
  const asksNothing = (own: object) =>
    Object.entries(own).every(([key, value]) => key === "note" || value === undefined);
  const mistakes: Mistake[] = [];
  const say = (path: Mistake["path"], message: string) => mistakes.push({ path, message });
  if (criteria !== undefined) {
    if (asksNothing(criteria)) say(["criteria"], "criteria without one that asks something");
    for (const measure of askedRates) {
      const key = `${measure}AtLeast` as const;
      if (criteria[key] !== undefined && !conditions.some(({ role }) => role === "confirmatory")) {
        say(["criteria", key], "asked of confirmatory conditions, of which there is none");
      }
    }
  }
  conditions.forEach(({ role, criteria: own }, at) => {
    if (own === undefined) return;
    const path = ["conditions", at, "criteria"];
    if (asksNothing(own)) say(path, "criteria without one that asks something");
    if (role === "exploratory") say(path, "an exploratory condition has no verdict");
  });
  return mistakes;
}
