import type { PairedColumns, PointOptions, ShownPairs } from "../privacy/index.js";
import { type FigureSpec, InputError, shownTo } from "../results/index.js";
import { figureSpec, type Part } from "./figureSpec.js";
import {
  acceptableBand,
  drawnValues,
  endsOf,
  type LimitsShown,
  levelBand,
  levelLine,
  linesOf,
  summariesOf,
  wordsApart,
  zeroLine,
} from "./marks/differenceLines.js";
import { legendValues, pairLayers } from "./marks/pairLayers.js";
import { differencesOf, noteOf, onCells, placesOf, toTheEnds } from "./marks/pairMarks.js";
import { roomForMarks } from "./marks/seriesLayers.js";
import { columnMm } from "./theme.js";
import { counted, estimateWords, grouped, intervalsOf, quantity, sentence } from "./words.js";

/** One of the planes: a component, an age band, a site. */
export interface DifferencePanel {
  /** Such as "J0" or "below 8 years"; stands above the plane. */
  readonly label: string;
  /** A result of `limitsOfAgreement`. */
  readonly agreement: LimitsShown;
  /** The plotted rows, or what `differencePoints` made of them. */
  readonly points?: PairedColumns | ShownPairs;
}

export interface DifferencePanelsOptions extends PointOptions {
  /** "D" by default. */
  readonly unit?: string;
  /** What a row is; "eye" by default. */
  readonly row?: string;
  /** The greatest difference that was called acceptable in advance: a band about 0 in every panel. */
  readonly acceptable?: number;
}

const across = 3;
const [width, height] = [96, 112];

/**
 * Differences against means in several planes on one scale: the components M, J0 and J45, age bands,
 * sites. What is farther apart in one plane than in another is so in dioptres too.
 *
 * For the public, cells of at least 11 rows; for the audience "journal" one mark a row. `unit` names
 * the unit on the axes, D by default.
 *
 * @param panels two or more planes, three in a line
 * @throws when there are fewer than two panels, or two of one label
 *
 * @example
 * const agreement = limitsOfAgreement({ test: [1, 2, 4], reference: [1, 3, 3] });
 * differencePanelsFigure([{ label: "right eyes", agreement }, { label: "left eyes", agreement }]).name // => "difference-panels"
 */
export function differencePanelsFigure(
  panels: readonly DifferencePanel[],
  options: DifferencePanelsOptions = {},
): FigureSpec {
  const { unit = "D", row = "eye", acceptable } = options;
  requirePanels(panels);
  const drawn = panels.map(({ label, agreement, points }) => {
    const audience = shownTo(options.audience, agreement, points);
    const { leading } = summariesOf(agreement);
    const lines = linesOf(agreement.bias, leading);
    return {
      label,
      agreement,
      leading,
      lines,
      pairs: differencesOf(points, { ...options, audience }),
    };
  });
  const values = [
    ...drawn.flatMap(({ lines }) => drawnValues(lines, null)),
    ...(acceptable === undefined ? [0] : [-acceptable, acceptable]),
  ];
  const coarse = drawn.flatMap(({ pairs }) => (pairs?.kind === "coarse-pairs" ? pairs.cells : []));
  const ends = endsOf(coarse, values);
  const places = drawn.flatMap(({ pairs }) => placesOf(pairs));
  const scale = (axis: "x" | "y") =>
    ends === null
      ? {
          domain: extentOf([
            ...places.map((place) => place[axis]),
            ...(axis === "y" ? values : []),
          ]),
          nice: true,
          ...roomForMarks,
        }
      : { domain: ends[axis], nice: false };
  const planes = drawn.map(({ pairs }) => (ends === null ? pairs : toTheEnds(pairs, ends)));
  const legend = {
    values: legendValues(planes),
    orient: "top",
    direction: "horizontal",
    titleOrient: "left",
    gradientLength: 70,
  };
  const views = drawn.map(({ label, agreement, lines }, at) => {
    const shown = planes[at];
    const wordsAt = wordsApart(lines, scale("y").domain, height);
    const axis = (title: string): Part => ({ title, tickCount: 5 });
    const x = {
      type: "quantitative",
      axis: axis(`Mean of test and reference (${unit})`),
      scale: scale("x"),
    };
    const y = {
      type: "quantitative",
      axis:
        at % across === 0
          ? axis(`Difference, test − reference (${unit})`)
          : { ...axis(""), title: null },
      scale: scale("y"),
    };
    const n = agreement.n === null ? "" : ` (n = ${grouped(agreement.n)})`;
    return {
      title: { text: `${label}${n}`, offset: 6 },
      width,
      height,
      layer: [
        ...pairLayers(shown, { x, y, noun: `${row}s`, legend, area: `${unit}²` }),
        ...acceptableBand(acceptable, y),
        ...lines.flatMap((one) => levelBand(one, y)),
        zeroLine(y),
        ...lines.flatMap((one) =>
          levelLine(one, {
            unit,
            y,
            onCells: onCells(shown),
            named: false,
            width,
            wordsAt: wordsAt.get(one.name),
          }),
        ),
      ],
    };
  });
  const words = drawn.map(
    ({ label, agreement, lines }) =>
      `${label}${agreement.n === null ? "" : `, n = ${grouped(agreement.n)}`}: ${lines.map(({ name, estimate }) => `${name} ${estimateWords(estimate, unit)}`).join("; ")}`,
  );
  const sizes = drawn.map(({ label, agreement }) =>
    agreement.n === null ? label : `${label} ${counted(agreement.n, row)}`,
  );
  const range = acceptable === undefined ? "" : `±${quantity(acceptable, unit)}`;
  const all = drawn.flatMap(({ lines }) => lines.map(({ estimate }) => estimate));
  const ways = [...new Set(drawn.map(({ leading }) => leading.words))].filter(Boolean).join(" or ");
  return figureSpec({
    name: "difference-panels",
    title: "Agreement of test and reference, side by side",
    caption: [
      `Difference (test minus reference) against the mean of the two, all planes on one scale: ${sizes.join("; ")}.`,
      `Solid line: bias; dashed lines: ${ways === "" ? "" : `${ways} `}limits of agreement; bands, and bars beside the plane: their ${intervalsOf(all)}; dotted line: no difference.`,
      range === "" ? "" : `Grey band: ${range}, the difference called acceptable in advance.`,
      noteOf(drawn.find(({ pairs }) => pairs !== undefined)?.pairs, unit),
    ]
      .filter(Boolean)
      .join(" "),
    alt: sentence(
      `Difference against mean in ${panels.length} planes on one scale. ${words.join(". ")}`,
    ),
    widthMm: columnMm.double,
    heightMm: 58 * Math.ceil(panels.length / across),
    spec: {
      ...(views.length <= across
        ? { spacing: 6, hconcat: views }
        : { spacing: { column: 6, row: 12 }, concat: views, columns: across }),
    },
  });
}

function extentOf(values: readonly number[]): readonly [number, number] {
  if (values.length === 0) return [-1, 1];
  const [low, high] = [Math.min(...values), Math.max(...values)];
  return low === high ? [low - 0.5, high + 0.5] : [low, high];
}

function requirePanels(panels: readonly DifferencePanel[]): void {
  const labels = new Set(panels.map(({ label }) => label));
  if (panels.length < 2 || labels.size !== panels.length) {
    throw new InputError(
      `differencePanelsFigure requires two or more panels of different labels, got ${panels.map(({ label }) => `"${label}"`).join(", ") || "none"}`,
    );
  }
}
