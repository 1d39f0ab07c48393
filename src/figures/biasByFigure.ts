import type { BiasBy } from "../agreement/biasBy.js";
import type { FigureSpec } from "../results/index.js";
import { type ForestRow, forestFigure } from "./forestFigure.js";
import { smallestCell } from "./points.js";

/**
 * Bias with its interval for each group of age, refraction, site and the like. Groups of fewer than
 * 11 rows keep their line without a number.
 *
 * @param result a result of `biasBy`
 *
 * @example
 * biasByFigure(biasBy({ test: [1, 2, 3, 4, 5, 7], reference: [1, 2, 2, 3, 3, 4], by: [3, 4, 4, 8, 9, 9] }, { factor: "age", breaks: [6] })).name // => "bias-by-age"
 */
export function biasByFigure(
  result: BiasBy,
  { unit = "D" }: { readonly unit?: string } = {},
): FigureSpec {
  const rows = result.groups.map(
    ({ group, n, agreement }): ForestRow => ({
      label: group,
      n,
      estimate:
        n < smallestCell
          ? { kind: "undefined", reason: `fewer than ${smallestCell} rows` }
          : agreement.kind === "undefined"
            ? agreement
            : agreement.bias,
    }),
  );
  const name = `bias-by-${result.factor.replace(/\W+/g, " ").trim().replaceAll(" ", "-")}`;
  return forestFigure(rows, {
    quantity: "bias",
    unit,
    grouping: result.factor,
    reference: 0,
    name,
  });
}
