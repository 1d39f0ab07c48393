import type { ShareDistributions } from "../cohort/index.js";
import type { FigureSpec } from "../results/index.js";
import { type ShareHistogramOptions, shareHistogramFigure } from "./shareHistogramFigure.js";

type Options = Omit<ShareHistogramOptions, "quantity" | "name" | "title" | "lead"> & {
  readonly quantity?: string;
};

/**
 * The readings of those who were examined against the readings of those who were not: where they
 * differ, the examined do not stand for all, and accuracy among them is biased.
 *
 * @param distributions a result of `shareDistributions` with the groups "examined" and
 *   "not examined", of the screening readings
 *
 * @example
 * examinedFigure(shareDistributions({ examined: [-1, -1.5, 0], "not examined": [0, 0.5] })).name // => "examined-and-not-examined"
 */
export function examinedFigure(
  distributions: ShareDistributions,
  options: Options = {},
): FigureSpec {
  const { quantity = "spherical equivalent" } = options;
  return shareHistogramFigure(distributions, {
    ...options,
    quantity,
    name: "examined-and-not-examined",
    title: "Readings of the examined and of the not examined",
    lead: `Screening readings (${quantity}) of those who were examined and of those who were not, as shares of each group`,
  });
}

/**
 * Refraction in age bands, as shares of each band.
 *
 * @param distributions a result of `shareDistributions` with age bands as groups
 *
 * @example
 * refractionByAgeFigure(shareDistributions({ "4 to 7 years": [0, 0.5], "8 to 12 years": [-1, 0] })).name // => "refraction-by-age"
 */
export function refractionByAgeFigure(
  distributions: ShareDistributions,
  options: Options = {},
): FigureSpec {
  const { quantity = "spherical equivalent" } = options;
  return shareHistogramFigure(distributions, {
    ...options,
    quantity,
    name: "refraction-by-age",
    title: "Refraction by age",
    lead: `Refraction (${quantity}) by age, as shares of each age band`,
  });
}
