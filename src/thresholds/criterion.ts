import { InputError } from "../results/index.js";

/** What the best cut-off is best at. */
export type Criterion =
  | "youden"
  | { readonly sensitivityAtLeast: number }
  | { readonly specificityAtLeast: number }
  | {
      readonly leastCost: {
        /** Prevalence where the cut-off will be used. */
        readonly prevalence: number;
        readonly costOfMiss: number;
        readonly costOfFalseReferral: number;
      };
    }
  | {
      /** Threshold probability: the risk at which a referral is just worth its cost. */
      readonly netBenefitAt: number;
      /** Prevalence where the cut-off will be used; the sample's own by default. */
      readonly prevalence?: number;
    };

/** Numbers, or sums of weights, referred in each class at one cut-off, and the classes' sizes. */
export type Score = (
  truePositive: number,
  falsePositive: number,
  totalWith: number,
  totalWithout: number,
) => number;

/** How good a cut-off is, high is better; -Infinity where it breaks the constraint. */
export function scoreOf(caller: string, criterion: Criterion): Score {
  if (criterion === "youden") return (tp, fp, p, n) => tp / p - fp / n;
  if (typeof criterion === "object" && criterion !== null) {
    if ("sensitivityAtLeast" in criterion) {
      const least = share(caller, "sensitivityAtLeast", criterion.sensitivityAtLeast);
      // the small allowance keeps rounding from breaking a constraint that is met exactly
      return (tp, fp, p, n) => (tp >= least * p - 1e-9 * p ? 1 - fp / n : -Infinity);
    }
    if ("specificityAtLeast" in criterion) {
      const least = share(caller, "specificityAtLeast", criterion.specificityAtLeast);
      return (tp, fp, p, n) => (n - fp >= least * n - 1e-9 * n ? tp / p : -Infinity);
    }
    if ("leastCost" in criterion) {
      const { prevalence, costOfMiss, costOfFalseReferral } = criterion.leastCost;
      share(caller, "prevalence", prevalence);
      requireCost(caller, "costOfMiss", costOfMiss);
      requireCost(caller, "costOfFalseReferral", costOfFalseReferral);
      return (tp, fp, p, n) =>
        -(
          prevalence * costOfMiss * (1 - tp / p) +
          (1 - prevalence) * costOfFalseReferral * (fp / n)
        );
    }
    if ("netBenefitAt" in criterion) {
      const risk = share(caller, "netBenefitAt", criterion.netBenefitAt);
      const { prevalence } = criterion;
      if (prevalence !== undefined) share(caller, "prevalence", prevalence);
      const odds = risk / (1 - risk);
      return (tp, fp, p, n) => {
        const rate = prevalence ?? p / (p + n);
        return rate * (tp / p) - (1 - rate) * (fp / n) * odds;
      };
    }
  }
  throw new InputError(
    `${caller} requires criterion: "youden", { sensitivityAtLeast }, { specificityAtLeast }, ` +
      `{ leastCost } or { netBenefitAt }, got ${JSON.stringify(criterion)}`,
  );
}

/** Whether the criterion sets a limit that may fail in new children. */
export function constraintOf(
  criterion: Criterion,
): { readonly measure: "sensitivity" | "specificity"; readonly least: number } | null {
  if (typeof criterion !== "object") return null;
  if ("sensitivityAtLeast" in criterion) {
    return { measure: "sensitivity", least: criterion.sensitivityAtLeast };
  }
  if ("specificityAtLeast" in criterion) {
    return { measure: "specificity", least: criterion.specificityAtLeast };
  }
  return null;
}

function share(caller: string, name: string, value: number): number {
  if (!(value > 0 && value < 1)) {
    throw new InputError(`${caller} requires ${name} between 0 and 1, got ${value}`);
  }
  return value;
}

function requireCost(caller: string, name: string, value: number): void {
  if (!(value >= 0 && value < Number.POSITIVE_INFINITY)) {
    throw new InputError(`${caller} requires ${name} of 0 or more, got ${value}`);
  }
}
