import { type Audience, shownGrid } from "../privacy/index.js";
import type { FigureSpec } from "../results/index.js";
import { figureSpec } from "./figureSpec.js";
import { colours, columnMm, page, ramp, sizes } from "./theme.js";
import { counted, grouped } from "./words.js";

/** Examined children referred for one thing and found to have another. */
export interface FoundCount {
  readonly referredFor: string;
  readonly found: string;
  readonly children: number;
}

interface ReferredAgainstFoundOptions {
  readonly audience?: Audience;
  /** How many children there are, where one may stand in several counts; their sum by default. */
  readonly children?: number;
}

/**
 * What children were referred for against what the exam found, as counts in a shaded grid. For the
 * public (default) counts below 11, and others that would give them back, are not shown.
 *
 * @param counts one entry a pair; pairs left out count 0
 *
 * @example
 * referredAgainstFoundFigure([{ referredFor: "hyperopia", found: "hyperopia", children: 30 }, { referredFor: "hyperopia", found: "nothing", children: 20 }]).name // => "referred-against-found"
 */
export function referredAgainstFoundFigure(
  counts: readonly FoundCount[],
  { audience = "public", children }: ReferredAgainstFoundOptions = {},
): FigureSpec {
  const reasons = [...new Set(counts.map(({ referredFor }) => referredFor))];
  const allFound = [...new Set(counts.map(({ found }) => found))];
  // in the order of the reasons, so that what was suspected and found stands on the diagonal
  const findings = [
    ...reasons.filter((reason) => allFound.includes(reason)),
    ...allFound.filter((found) => !reasons.includes(found)),
  ];
  const count = (reason: string, found: string) =>
    counts
      .filter((one) => one.referredFor === reason && one.found === found)
      .reduce((sum, { children }) => sum + children, 0);
  const shown = shownGrid(
    reasons.map((reason) => findings.map((found) => count(reason, found))),
    audience,
  );
  const cells = reasons.flatMap((reason, row) =>
    findings.map((found, column) => {
      const children = shown[row]![column] ?? null;
      return { reason, found, children, text: children === null ? "not shown" : String(children) };
    }),
  );
  const n = children ?? counts.reduce((sum, one) => sum + one.children, 0);
  const repeated = children === undefined ? "" : " A child may stand in several cells.";
  const most = Math.max(1, ...cells.map(({ children }) => children ?? 0));
  const axis = (field: string, title: string, sort: readonly string[]) => ({
    field,
    type: "nominal",
    sort,
    axis: {
      title,
      domain: false,
      ticks: false,
      labelAngle: 0,
      labelPadding: 4,
      // a line a word below the columns
      ...(field === "found" ? { labelExpr: "split(datum.label, ' ')" } : {}),
    },
  });
  const x = axis("found", "Found at the exam", findings);
  const y = axis("reason", "Referred for", reasons);
  const words = cells.map(({ reason, found, text }) => `${reason}, found ${found}: ${text}`);
  const text = (values: readonly object[], color: string) => ({
    data: { values },
    mark: { type: "text", color, fontSize: sizes.text },
    encoding: { x, y, text: { field: "text" } },
  });
  const isDark = ({ children }: (typeof cells)[number]) => (children ?? 0) > most * 0.45;
  return figureSpec({
    name: "referred-against-found",
    title: "Referred for, and found",
    caption: `What children were referred for against what the exam found, ${counted(n, "examined child", "examined children")}.${repeated}${audience === "public" ? " Small counts, and others that would give them back, are not shown." : ""}`,
    alt: `Referred for against found, n = ${grouped(n)}: ${words.join("; ")}.`,
    widthMm: findings.length > 4 ? columnMm.double : columnMm.oneAndHalf,
    heightMm: 24 + 9 * reasons.length,
    spec: {
      layer: [
        {
          data: { values: cells.filter(({ children }) => children !== null) },
          mark: { type: "rect", stroke: colours.quiet, strokeWidth: 0.3 },
          encoding: {
            x,
            y,
            color: {
              field: "children",
              type: "quantitative",
              scale: { domain: [0, most], range: ramp },
              legend: null,
            },
          },
        },
        text(
          cells.filter((cell) => !isDark(cell)),
          colours.ink,
        ),
        text(cells.filter(isDark), page),
      ],
    },
  });
}
