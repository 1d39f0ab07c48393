import type { FigureSpec } from "../results/index.js";
import { figureSpec } from "./figureSpec.js";
import { type Audience, smallestCell } from "./points.js";
import { numericAxis, type SeriesRow, seriesLayers } from "./seriesLayers.js";
import { columnMm } from "./theme.js";
import { counted } from "./words.js";

/**
 * Distributions of one quantity in two to four groups, as shares of each group in bins of equal
 * width: examined against not examined, or one age band against another. The area under each line is
 * the same, whatever the sizes of the groups.
 *
 * For the public (default) neighbouring bins are joined until each holds at least 11 rows.
 *
 * @param groups values by the name of the group
 *
 * @example
 * shareHistogram({ examined: [-1, -1.5, 0], "not examined": [0, 0.5] }, { quantity: "spherical equivalent", audience: "journal" }).name // => "share-histogram"
 */
export function shareHistogram(
  groups: { readonly [name: string]: ArrayLike<number> },
  options: {
    readonly quantity: string;
    readonly unit?: string;
    readonly row?: string;
    readonly bin?: number;
    readonly name?: string;
    readonly audience?: Audience;
  },
): FigureSpec {
  const { quantity, unit = "D", row = "eye", bin = 0.5, name = "share-histogram" } = options;
  const least = options.audience === "journal" ? 1 : smallestCell;
  const names = Object.keys(groups);
  const outlines = names.map((series) => outline(series, groups[series]!, bin, least));
  const rows = outlines.flatMap((one) => one.rows);
  const beyond = outlines.reduce((sum, one) => sum + one.beyond, 0);
  const sizes = names.map((series) => `${series} ${counted(groups[series]!.length, row)}`);
  const n = names.reduce((sum, series) => sum + groups[series]!.length, 0);
  return figureSpec({
    name,
    title: `Distribution of ${quantity}`,
    caption: `Distribution of ${quantity} as share of each group: ${sizes.join("; ")}.${least > 1 ? ` Bins hold at least ${least}; ${beyond} beyond the ends are not drawn.` : ""}`,
    alt: `Distribution of ${quantity}, n = ${n}: ${sizes.join("; ")}.`,
    widthMm: columnMm.single,
    heightMm: 66,
    spec: {
      layer: seriesLayers(rows, names, {
        x: numericAxis(`${quantity.charAt(0).toUpperCase()}${quantity.slice(1)} (${unit})`),
        y: numericAxis(`Share of the group (% per ${unit})`, { scale: { zero: true } }),
      }).map((layer) => ({
        ...layer,
        mark: { ...(layer.mark as object), interpolate: "step-after" },
      })),
    },
  });
}

/** The upper edge of the histogram: heights at left edges, back to 0 at the end. */
function outline(
  series: string,
  values: ArrayLike<number>,
  bin: number,
  least: number,
): { readonly rows: readonly SeriesRow[]; readonly beyond: number } {
  const n = values.length;
  if (n === 0) return { rows: [], beyond: 0 };
  const counts = new Map<number, number>();
  for (const value of Array.from(values)) {
    const at = Math.floor(value / bin + 0.5);
    counts.set(at, (counts.get(at) ?? 0) + 1);
  }
  const first = Math.min(...counts.keys());
  const last = Math.max(...counts.keys());
  const bins: { from: number; to: number; count: number }[] = [];
  for (let at = first, open = { from: first, to: first, count: 0 }; at <= last; at++) {
    open = { ...open, to: at + 1, count: open.count + (counts.get(at) ?? 0) };
    const isLast = at === last;
    if (open.count < least && !isLast) continue;
    const before = bins.at(-1);
    if (open.count < least && before !== undefined) {
      bins[bins.length - 1] = { from: before.from, to: open.to, count: before.count + open.count };
    } else bins.push(open);
    open = { from: at + 1, to: at + 1, count: 0 };
  }
  if (bins.some(({ count }) => count < least)) return { rows: [], beyond: n };
  // an end that was joined from several bins would show where the outermost row lies
  const isOpen = (one: { from: number; to: number }) => least > 1 && one.to - one.from > 1;
  while (bins.length > 0 && isOpen(bins[0]!)) bins.shift();
  while (bins.length > 0 && isOpen(bins.at(-1)!)) bins.pop();
  const beyond = n - bins.reduce((sum, { count }) => sum + count, 0);
  if (bins.length === 0) return { rows: [], beyond };
  const edge = (at: number) => Number(((at - 0.5) * bin).toFixed(10));
  const rows = bins.map(({ from, to, count }) => ({
    series,
    x: edge(from),
    y: Number(((100 * count) / n / ((to - from) * bin)).toFixed(4)),
  }));
  return { rows: [...rows, { series, x: edge(bins.at(-1)!.to), y: 0 }], beyond };
}
