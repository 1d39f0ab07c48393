import type { BiasBy } from "../agreement/index.js";
import type { Audience, CountedRow } from "../privacy/index.js";
import { type FigureSpec, shownTo } from "../results/index.js";
import { forestFigure } from "./forestFigure.js";

/**
 * Bias with its interval for each group of age, refraction, site and the like. For the public
 * (default) groups of fewer than 11 rows, and one more where their number would follow from the
 * sum, keep their line without a number.
 *
 * `unit` names the unit on the axis, D by default.
 *
 * @param result a result of `biasBy`
 *
 * @example
 * biasByFigure(biasBy({ test: [1, 2, 3, 4, 5, 7], reference: [1, 2, 2, 3, 3, 4], by: [3, 4, 4, 8, 9, 9] }, { label: "age", breaks: [6] })).name // => "bias-by-age"
 */
export function biasByFigure(
  result: BiasBy,
  options: { readonly unit?: string; readonly audience?: Audience } = {},
): FigureSpec {
  const { unit = "D" } = options;
  const rows = result.groups.map(
    ({ group, n, bias }): CountedRow => ({ label: group, n, estimate: bias }),
  );
  const name = `bias-by-${result.label.replace(/\W+/g, " ").trim().replaceAll(" ", "-")}`;
  return forestFigure(rows, {
    quantity: "bias",
    unit,
    grouping: result.label,
    reference: 0,
    referenceWords: "no bias",
    name,
    audience: shownTo(options.audience, result),
  });
}
