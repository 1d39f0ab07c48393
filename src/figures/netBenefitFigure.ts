import type { NetBenefit, NetBenefitPoint } from "../accuracy/index.js";
import { type Audience, requireShowable } from "../privacy/index.js";
import type { FigureSpec } from "../results/index.js";
import { figureSpec } from "./figureSpec.js";
import { numericAxis, percentLabels, seriesLayers, type SeriesRow } from "./marks/seriesLayers.js";
import { columnMm } from "./theme.js";
import { counted, estimateWords, grouped, percent } from "./words.js";

const series = [
  { name: "this rule", member: "netBenefit" },
  { name: "refer all", member: "referAll" },
  { name: "refer nobody", member: "referNone" },
] as const;

/**
 * Net benefit of a rule, of referring all and of referring nobody, against the threshold
 * probability at which a referral is worth its cost. The rule itself does not move along the axis.
 *
 * For the public (default) every count behind the lines is 0 or at least 11.
 *
 * Axes are proportions, 0 to 1.
 *
 * @param result a result of `netBenefit`
 * @throws when the public would see a small count
 *
 * @example
 * netBenefitFigure(netBenefit({ table: { truePositive: 40, falsePositive: 30, falseNegative: 15, trueNegative: 415 } }, { thresholdProbabilities: [0.05, 0.1] })).name // => "net-benefit"
 */
export function netBenefitFigure(
  result: NetBenefit,
  options: {
    readonly condition?: string;
    /** What a row is; "child" by default. */
    readonly row?: string;
    readonly audience?: Audience;
  } = {},
): FigureSpec {
  const { condition = "the condition", row: unit = "child", audience = "public" } = options;
  const { verified, unverified } = result.counts;
  const counts = [...Object.values(verified), ...Object.values(unverified)];
  requireShowable("netBenefitFigure", counts, audience);
  const rows = result.points.flatMap((point) =>
    series.flatMap(({ name, member }) => row(name, member, point)),
  );
  const middle = result.points[Math.floor(result.points.length / 2)];
  const said =
    middle === undefined
      ? ""
      : `at a threshold probability of ${percent(middle.thresholdProbability)} net benefit ${estimateWords(middle.netBenefit)}`;
  const [floor, top] = endsOf(rows);
  const below = rows.some(({ series, y }) => series === "refer all" && y < floor);
  return figureSpec({
    name: "net-benefit",
    title: `Net benefit: ${condition}`,
    caption: `Net benefit for ${condition} (true referrals for each ${unit}, false ones charged at the odds of the threshold probability), ${counted(result.n, unit)}. Band: ${percent(result.level)} interval (${result.method}).${below ? " The line of referring all goes on below the plane, where it is worse than referring nobody." : ""}`,
    alt: `Net benefit against threshold probability, n = ${grouped(result.n)}: ${said}.`,
    widthMm: columnMm.single,
    heightMm: 72,
    spec: {
      layer: seriesLayers(
        rows,
        series.map(({ name }) => name),
        {
          x: numericAxis("Threshold probability (%)", { axis: percentLabels }),
          y: numericAxis(`Net benefit (true referrals per ${unit})`, {
            scale: { domain: [floor, top], nice: false },
          }),
        },
      ).map((layer) => ({ ...layer, mark: { ...(layer.mark as object), clip: true } })),
    },
  });
}

/**
 * The axis ends where the rule's line and band do, with some room below 0: referring all falls without
 * an end, and on its scale nothing else would be told apart.
 */
function endsOf(rows: readonly SeriesRow[]): readonly [number, number] {
  const rule = rows
    .filter(({ series }) => series === "this rule")
    .flatMap(({ y, low, high }) => [y, low ?? y, high ?? y]);
  const top = Math.max(0, ...rule, ...rows.map(({ y }) => y)) || 0.1;
  return [Math.min(0, ...rule) - 0.08 * top, 1.05 * top];
}

function row(
  name: string,
  member: (typeof series)[number]["member"],
  point: NetBenefitPoint,
): SeriesRow[] {
  const estimate = point[member];
  if (estimate.kind === "undefined") return [];
  const { value, low, high } = estimate;
  const band = member === "netBenefit" ? { low, high } : {};
  return [{ series: name, x: point.thresholdProbability, y: value, ...band }];
}
