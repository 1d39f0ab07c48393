import { demandedCount, type KeptConstraint } from "../accuracy/index.js";
import { InputError } from "../results/index.js";
import type { GridChoice } from "./chooseOnGrid.js";

/**
 * The choice whose observed constraint keeps the promise in new children.
 *
 * On a grid of joint rules a rule with lower limits refers all that one with higher limits does, and
 * more. The rules that break the constraint in truth therefore lie below an edge, no two rules of which
 * are ordered; if no rule of the edge reaches the demanded rate by luck, none below it does. An edge
 * has at most as many rules as the widest layer of the grid, so that the exact one-sided binomial
 * test at (1 - assurance) over that number keeps the promise, whatever rule is then best. With one
 * criterion the number is 1: the rule of `chooseThreshold`.
 *
 * @throws unless one of specificity and sensitivity is constrained, or where children are too few
 */
export function assuredChoice(
  caller: string,
  choice: GridChoice,
  children: { readonly sensitivity: number; readonly specificity: number },
  assurance: number,
): {
  readonly choice: GridChoice;
  readonly demanded: number;
  readonly compared: number;
  readonly constraint: Pick<KeptConstraint, "measure" | "least">;
} {
  const constraint = constrainedRate(choice);
  if (constraint === null) {
    throw new InputError(
      `${caller} requires one of specificityAtLeast and sensitivityAtLeast, below 1, for constraint "assured", got ${choice.specificityAtLeast > 0 ? "both" : "neither"}; constrain the one that is to be promised`,
    );
  }
  const { measure } = constraint;
  const compared = widestLayer(choice.allowed);
  const count = children[measure];
  const error = (1 - assurance) / compared;
  const demanded = demandedCount(caller, { ...constraint, children: count, error }) / count;
  return {
    choice: { ...choice, [`${measure}AtLeast`]: demanded },
    demanded,
    compared,
    constraint,
  };
}

/** The rate that a choice constrains, null where it constrains none or both. */
export function constrainedRate({
  specificityAtLeast,
  sensitivityAtLeast,
}: Pick<GridChoice, "specificityAtLeast" | "sensitivityAtLeast">): Pick<
  KeptConstraint,
  "measure" | "least"
> | null {
  const open = (rate: number) => rate > 0 && rate < 1;
  if (open(specificityAtLeast) && sensitivityAtLeast === 0)
    return { measure: "specificity", least: specificityAtLeast };
  if (open(sensitivityAtLeast) && specificityAtLeast === 0)
    return { measure: "sensitivity", least: sensitivityAtLeast };
  return null;
}

/**
 * Most rules of a grid no two of which are ordered: the rules of its middle layer, whose places add up
 * to half of the greatest sum (de Bruijn, van Ebbenhorst Tengbergen and Kruyswijk, Nieuw Arch Wiskunde
 * 1951;(2)23:191-193).
 */
export function widestLayer(sizes: readonly number[]): number {
  let layers = [1];
  for (const size of sizes) {
    const next = new Array<number>(layers.length + size - 1).fill(0);
    layers.forEach((rules, at) => {
      for (let place = 0; place < size; place++) next[at + place] += rules;
    });
    layers = next;
  }
  return Math.max(...layers);
}
