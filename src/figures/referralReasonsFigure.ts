import { type Audience, keptCounts, leastFor } from "../privacy/index.js";
import type { FigureSpec } from "../results/index.js";
import { figureSpec } from "./figureSpec.js";
import { numericAxis } from "./marks/seriesLayers.js";
import { colours, columnMm } from "./theme.js";
import { counted, grouped } from "./words.js";

/** Children who were referred for exactly these reasons. */
export interface ReasonCount {
  readonly reasons: readonly string[];
  readonly children: number;
}

/**
 * How many children were referred for each combination of reasons, the most frequent first. For the
 * public (default) combinations of fewer than 11 are added up as "other combinations", with the next
 * ones where those would be fewer than 11 themselves.
 *
 * @param counts each combination once
 *
 * @example
 * referralReasonsFigure([{ reasons: ["hyperopia"], children: 30 }, { reasons: ["hyperopia", "anisometropia"], children: 12 }]).name // => "referral-reasons"
 */
export function referralReasonsFigure(
  counts: readonly ReasonCount[],
  { audience = "public" }: { readonly audience?: Audience } = {},
): FigureSpec {
  const all = counts
    .filter(({ children }) => children > 0)
    .map(({ reasons, children }) => ({ label: reasons.join(" + "), children }))
    .sort((a, b) => b.children - a.children || (a.label < b.label ? -1 : 1));
  const { kept, rest } = keptCounts(all, ({ children }) => children, leastFor(audience));
  const bars = rest === 0 ? kept : [...kept, { label: "other combinations", children: rest }];
  const n = all.reduce((sum, { children }) => sum + children, 0);
  const y = {
    field: "label",
    type: "nominal",
    sort: null,
    axis: { title: null, domain: false, ticks: false, labelPadding: 5 },
  };
  // room for the number beside the longest bar
  const most = 1.15 * Math.max(1, ...bars.map(({ children }) => children));
  const x = numericAxis("Referred children (number)", {
    scale: { domain: [0, most], nice: false },
  });
  return figureSpec({
    name: "referral-reasons",
    title: "Why children were referred",
    caption: `Combinations of referral reasons, ${counted(n, "referred child", "referred children")}; each child is in one bar.`,
    alt: `Combinations of referral reasons, n = ${grouped(n)}: ${bars.map(({ label, children }) => `${label} ${children}`).join("; ")}.`,
    widthMm: columnMm.oneAndHalf,
    heightMm: 20 + 6 * bars.length,
    spec: {
      layer: [
        {
          data: { values: bars },
          mark: { type: "bar", color: colours.first, height: { band: 0.7 } },
          encoding: { y, x: { field: "children", ...x } },
        },
        {
          data: { values: bars },
          mark: { type: "text", align: "left", baseline: "middle", dx: 3 },
          encoding: { y, x: { field: "children", ...x }, text: { field: "children" } },
        },
      ],
    },
  });
}
