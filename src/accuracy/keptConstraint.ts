import { binomialQuantile, clopperPearsonLimits } from "../inference/index.js";
import { InputError } from "../results/index.js";
import type { Clusters } from "../rows/index.js";
import type { Performance } from "./performance.js";

/** What is known of a constraint at a chosen cut-off, or of a chosen rule. */
export interface KeptConstraint {
  readonly kind: "kept-constraint";
  /** "assured": the choice was made so that it holds in new children with the stated probability. */
  readonly mode: "observed" | "assured";
  readonly measure: "sensitivity" | "specificity";
  readonly least: number;
  /** Probability of the promise, or level of the bound. */
  readonly assurance: number;
  /** Children with (sensitivity) or without (specificity) the condition. */
  readonly children: number;
  /** Rate that the choice had to reach on these rows; the constraint itself where observed. */
  readonly demanded: number;
  /** Over so many the error of an assured choice is shared: 1 along the cut-offs of one variable. */
  readonly compared: number;
  /** One-sided Clopper-Pearson bound of the chosen rate; null where rows are weighted or sites stand above children. */
  readonly bound: number | null;
  readonly note: string;
}

/**
 * How many of these children have to be right so that the exact one-sided binomial test rejects
 * "rate <= least" at `error`.
 *
 * @throws where so few children cannot reject even with no mistake
 */
export function demandedCount(
  caller: string,
  {
    measure,
    least,
    children,
    error,
  }: {
    readonly measure: "sensitivity" | "specificity";
    readonly least: number;
    readonly children: number;
    readonly error: number;
  },
): number {
  const needed = binomialQuantile(1 - error, children, least) + 1;
  if (needed <= children) return needed;
  const enough = Math.ceil(Math.log(error) / Math.log(least));
  throw new InputError(
    `${caller} requires at least ${enough} children to assure a ${measure} of ${least}, got ${children}; take constraint "observed", or more children`,
  );
}

/** What to say of a constraint beside the choice. */
export function keptConstraint(
  { measure, least }: Pick<KeptConstraint, "measure" | "least">,
  apparent: Performance,
  options: {
    readonly mode: "observed" | "assured";
    readonly assurance: number;
    readonly demanded: number | null;
    readonly compared?: number;
    readonly children: { readonly sensitivity: number; readonly specificity: number };
    /** Rows are not independent children, so that there is no bound. */
    readonly unbounded: boolean;
    /** "cut-off" or "rule". */
    readonly what: string;
  },
): KeptConstraint {
  const { mode, assurance, demanded, compared = 1, unbounded, what } = options;
  const children = options.children[measure];
  const kept = Math.floor(apparent[measure] * children + 1e-6);
  return {
    kind: "kept-constraint",
    mode,
    measure,
    least,
    assurance,
    children,
    demanded: demanded ?? least,
    compared,
    // Twice the one-sided error, because the limits are two-sided.
    bound: unbounded ? null : clopperPearsonLimits(kept, children, 2 * (1 - assurance))[0],
    note:
      mode === "assured"
        ? `Chosen so that new children keep it with probability ${assurance} at least.`
        : `The bound is not corrected for choosing: a ${what} at the edge of its constraint breaks it in new children about every second time.`,
  };
}

/** Children with a row of each class: those that sensitivity, and specificity, is a rate of. */
export function childrenByRate(
  codes: ArrayLike<number>,
  clusters: Pick<Clusters, "ofRow"> | null,
): { readonly sensitivity: number; readonly specificity: number } {
  const classes = [new Set<number>(), new Set<number>()];
  for (let row = 0; row < codes.length; row++)
    classes[codes[row]]?.add(clusters?.ofRow[row] ?? row);
  return { sensitivity: classes[1].size, specificity: classes[0].size };
}
