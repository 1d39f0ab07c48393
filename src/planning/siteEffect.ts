import { normalQuantile, tQuantile } from "../inference/index.js";
import type { AccuracyStudy } from "./studies.js";

/**
 * How many rows stand for one independent row with sites above children: 1 + (m - 1) correlation, m
 * the rows of a site that a rate is of, times (t / z) squared, because the interval over K sites has
 * Student's t with K - 1 degrees of freedom. Infinite with fewer than 2 sites: they give no interval.
 *
 * @param plan `rowsPerChild`: rows on the rate's side of the condition that a child is expected to give
 */
export function siteEffect(
  { perSite, correlation }: NonNullable<AccuracyStudy["sites"]>,
  plan: { readonly children: number; readonly rowsPerChild: number; readonly level: number },
): number {
  const sites = plan.children / perSite;
  if (sites < 2) return Number.POSITIVE_INFINITY;
  const rows = Math.max(1, perSite * plan.rowsPerChild);
  const tail = (1 + plan.level) / 2;
  const wider = tQuantile(tail, sites - 1) / normalQuantile(tail);
  return (1 + (rows - 1) * correlation) * wider ** 2;
}
