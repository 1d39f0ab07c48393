import { effectiveSites, normalQuantile, tQuantile } from "../../inference/index.js";
import type { CellCount } from "./cellCounts.js";
import {
  partOfWhole,
  type RatedCell,
  type RateMeasure,
  type RateSums,
  rateSums,
} from "./cellRates.js";

/** How sites above children widen the interval of a measure. */
export interface SiteSpread {
  /** Sites with a child in the measure's denominator, and how many of one size would weigh as much. */
  readonly sites: number;
  readonly effective: number;
  /** Half-widths on the logit scale against those of independent children; at least 1. */
  readonly times: number;
}

/**
 * The delete-one-site jackknife variance of a measure over that of deleting one row at a time, both of the
 * logit, never taken below 1; and Student's t with effective sites - 1 degrees of freedom in place of the
 * normal quantile. A cell that is left without an exam keeps its rate. A value of 0 or 1 has neither
 * variance: of so few cases hardly two share a site, and the t alone widens.
 *
 * @param bySite what each site adds to each of the cells, in their order
 */
export function siteSpread(
  cells: readonly RatedCell[],
  bySite: readonly (readonly CellCount[])[],
  measure: RateMeasure,
  { level, rowsPerChild }: { readonly level: number; readonly rowsPerChild: number },
): SiteSpread {
  const valueAt = (sums: RateSums) => {
    const [part, whole] = partOfWhole(sums, measure);
    return part / whole;
  };
  const all = rateSums(cells);
  const denominators = bySite
    .map((counts) => partOfWhole(sumsOfPart(cells, counts), measure)[1])
    .filter((size) => size > 0);
  const effective = denominators.length === 0 ? 0 : effectiveSites(denominators);
  const ofSites = jackknife(
    bySite.map((counts) => [valueAt(rateSums(cellsWithout(cells, counts))), 1]),
  );
  const ofRows = jackknife(
    cells.flatMap(({ n, examined, cases }, at) =>
      [
        { part: { n: 1, examined: 1, cases: 1 }, rows: cases },
        { part: { n: 1, examined: 1, cases: 0 }, rows: examined - cases },
        { part: { n: 1, examined: 0, cases: 0 }, rows: n - examined },
      ]
        .filter(({ rows }) => rows > 0)
        .map(({ part, rows }): [number, number] => {
          const counts = cells.map((_, cell) => (cell === at ? part : nothing));
          return [valueAt(rateSums(cellsWithout(cells, counts))), rows];
        }),
    ),
  );
  const onLogit = isInside(valueAt(all)) && ofSites.isInside && ofRows.isInside;
  const scale = onLogit ? "logit" : "plain";
  const ratio = ofSites[scale] / (rowsPerChild * ofRows[scale]);
  const design = Number.isFinite(ratio) ? Math.max(1, ratio) : 1;
  const tail = (1 + level) / 2;
  const quantiles = effective > 1 ? tQuantile(tail, effective - 1) / normalQuantile(tail) : 1;
  return { sites: denominators.length, effective, times: Math.sqrt(design) * quantiles };
}

const nothing: CellCount = { n: 0, examined: 0, cases: 0 };

/** The sums of some rows, at the rates of all. */
function sumsOfPart(cells: readonly RatedCell[], counts: readonly CellCount[]): RateSums {
  return rateSums(cells.map((cell, at) => ({ ...cell, n: counts[at].n })));
}

/** The cells without some rows. */
function cellsWithout(cells: readonly RatedCell[], counts: readonly CellCount[]): RatedCell[] {
  return cells.map((cell, at) => {
    const own = (one: number) => one === at;
    const alike = (one: number) => cells[one].recorded === cell.recorded && !cells[one].own;
    const behind = cell.borrows ? alike : own;
    const less = { examined: 0, cases: 0 };
    counts.forEach(({ examined, cases }, one) => {
      if (!behind(one)) return;
      less.examined += examined;
      less.cases += cases;
    });
    const examined = cell.behind.examined - less.examined;
    return {
      ...cell,
      n: cell.n - counts[at].n,
      behind: examined > 0 ? { examined, cases: cell.behind.cases - less.cases } : cell.behind,
    };
  });
}

/** (m - 1)/m times the sum of squared deviations of values that stand for so many deletions. */
function jackknife(values: readonly (readonly [value: number, times: number])[]) {
  const kept = values.filter(([value]) => Number.isFinite(value));
  const count = kept.reduce((sum, [, times]) => sum + times, 0);
  const variance = (to: (value: number) => number) => {
    const mean = kept.reduce((sum, [value, times]) => sum + times * to(value), 0) / count;
    const squares = kept.reduce((sum, [value, times]) => sum + times * (to(value) - mean) ** 2, 0);
    return ((count - 1) / count) * squares;
  };
  return {
    isInside: kept.every(([value]) => isInside(value)),
    plain: variance((value) => value),
    logit: variance((value) => Math.log(value / (1 - value))),
  };
}

const isInside = (value: number): boolean => value > 0 && value < 1;
