import {
  astigmatismPoints,
  differencePoints,
  type ShownPairs,
  shownEyes,
} from "../privacy/index.js";
import { mirrorEye, type PowerVector } from "../refraction/index.js";
import { type FigureSpec, type ForAudience, InputError, shownTo } from "../results/index.js";
import { figureSpec, type Part } from "./figureSpec.js";
import { dotOpacity, pairLayers } from "./marks/pairLayers.js";
import { noteOf } from "./marks/pairMarks.js";
import { roomForMarks } from "./marks/seriesLayers.js";
import { colours, columnMm, dashes, pointsPerMm, sizes } from "./theme.js";
import { counted, grouped, sentence } from "./words.js";

/** A view of the same eyes. */
export type LinkedView = "difference" | "double-angle" | "age";

/** Readings and findings as vectors, such as `powerVectorPairs` gives them. */
export interface LinkedEyes extends ForAudience {
  readonly test: ArrayLike<PowerVector>;
  readonly reference: ArrayLike<PowerVector>;
  /** Left eyes are mirrored where it is given. */
  readonly eyes?: ArrayLike<"right" | "left">;
  /** Years; NaN where it is not known. Needed for the view by age. */
  readonly ageYears?: ArrayLike<number>;
}

/**
 * The same eyes in several views side by side, in which a selection goes from one to the others: drawn around
 * points of one view, a frame marks the same eyes in all of them (`show(linkedFigures(...), { live: true })`).
 *
 * "difference" is the difference of M (test minus reference) against the mean of both, "double-angle" the
 * difference of J0 and J45, "age" the difference of M by age. For the public each view has its own cells and
 * nothing joins them, as it is beyond 4,000 eyes: then there is no frame.
 *
 * @param eyes a result of `powerVectorPairs`, or columns of vectors in dioptres
 * Marks that are joined say more of an eye than those of a single figure: they are rounded to 0.25 D, ages to bands
 * of three years, and the age is there only where its view is asked for. Keep such a page on your own machine.
 *
 * @param views two or three, in the order in which they stand; "difference" and "double-angle" by default
 * @throws InputError for columns of different lengths, one view alone, or "age" without ages
 *
 * @example
 * const vectors = [[0, 1, 0], [1, 0, 1]].map(([M, J0, J45]) => ({ M, J0, J45 }));
 * linkedFigures({ test: vectors, reference: vectors, audience: "journal" }).spec.hconcat.length // => 2
 */
export function linkedFigures(eyes: LinkedEyes, views?: readonly LinkedView[]): FigureSpec {
  const n = eyes.test.length;
  const wanted: readonly LinkedView[] = views ?? ["difference", "double-angle"];
  requireViews(eyes, wanted);
  const columns = columnsOf(eyes);
  const audience = shownTo(undefined, eyes);
  const { ageYears, ...powers } = columns;
  const joint = shownEyes(wanted.includes("age") ? columns : powers, { audience });
  const side = Math.floor(((columnMm.double * pointsPerMm) / wanted.length) * 0.72);
  const words = wanted.map((view) => names[view]).join("; ");
  const note =
    joint === null
      ? notLinked(audience)
      : `Rounded to 0.25 D${wanted.includes("age") ? ", ages in bands of three years" : ""}. Shown live, a frame drawn in one view marks the same eyes in all.`;
  return figureSpec({
    name: "linked",
    title: "The same eyes, side by side",
    caption: `${sentence(`${words}, ${counted(n, "eye")}`)} Difference: test minus reference. ${note}${joint === null ? ` ${noteOf(cellsOf(wanted[0]!, columns, audience), "D", wanted.includes("age") ? "D², by age D × year" : "D²")}` : ""}`,
    alt: `The same eyes in ${wanted.length} views, n = ${grouped(n)}: ${words}.`,
    widthMm: columnMm.double,
    heightMm: 70,
    isEmpty: n === 0,
    spec: {
      ...(joint === null
        ? {}
        : { data: { values: joint }, usermeta: { live: { params: [frame(wanted)], color } } }),
      spacing: 18,
      // an eye per square dioptre of one view is nothing that another view counts
      ...(joint === null && {
        resolve: { scale: { color: "independent" }, legend: { color: "independent" } },
      }),
      hconcat: wanted.map((view) => ({
        width: side,
        height: side,
        layer: [
          ...(joint === null
            ? pairLayers(cellsOf(view, columns, audience), {
                ...axes(view),
                noun: "eyes",
                area: areaOf(view),
              })
            : [marks(view, joint.length)]),
          ...zeroLines(view),
        ],
      })),
    },
  });
}

const names: Readonly<Record<LinkedView, string>> = {
  difference: "difference of M against the mean of both",
  "double-angle": "difference of J0 and J45",
  age: "difference of M by age",
};

const fields: Readonly<Record<LinkedView, readonly [x: string, y: string]>> = {
  difference: ["meanM", "differenceM"],
  "double-angle": ["differenceJ0", "differenceJ45"],
  age: ["ageYears", "differenceM"],
};

const titles: Readonly<Record<string, string>> = {
  meanM: "Mean of test and reference, M (D)",
  differenceM: "Difference, M (D)",
  differenceJ0: "Difference, J0 (D)",
  differenceJ45: "Difference, J45 (D)",
  ageYears: "Age, from (years)",
};

/** By what area the cells of a view are shaded. */
const areaOf = (view: LinkedView): string => (view === "age" ? "D × year" : "D²");

/** One selection for all views: the frame lies in the view in which it was drawn. */
function frame(views: readonly LinkedView[]): Part {
  return {
    name: "chosen",
    select: {
      type: "interval",
      resolve: "global",
      mark: { fill: colours.quiet, fillOpacity: 0.12 },
    },
    views: [...views],
  };
}

function axes(view: LinkedView): { readonly x: Part; readonly y: Part } {
  const [x, y] = fields[view];
  const channel = (field: string): Part => ({
    type: "quantitative",
    axis: { title: titles[field] },
    scale: { zero: false, nice: true, ...roomForMarks },
  });
  return { x: channel(x), y: channel(y) };
}

/** What the frame leaves coloured; without a frame, all. */
const color: Part = {
  condition: { param: "chosen", value: colours.first },
  value: colours.faint,
};

function marks(view: LinkedView, n: number): Part {
  const [x, y] = fields[view];
  const channel = axes(view);
  return {
    name: view,
    // the rows are those of all views
    transform: [{ filter: `isValid(datum.${x}) && isValid(datum.${y})` }],
    mark: { type: "point", filled: true, size: sizes.point, opacity: dotOpacity(n) },
    encoding: {
      x: { field: x, ...channel.x },
      y: { field: y, ...channel.y },
      color: { value: colours.first },
    },
  };
}

/** Where there is no difference. */
function zeroLines(view: LinkedView): Part[] {
  const { x, y } = axes(view);
  const look = {
    type: "rule",
    color: colours.quiet,
    strokeWidth: sizes.thin,
    strokeDash: dashes.dotted,
  };
  const data = { values: [{ zero: 0 }] };
  const level = { data, mark: look, encoding: { y: { field: "zero", ...y } } };
  return view === "double-angle"
    ? [level, { data, mark: look, encoding: { x: { field: "zero", ...x } } }]
    : [level];
}

function columnsOf({ test, reference, eyes, ageYears }: LinkedEyes) {
  const differences = Array.from(test, (one, row) => {
    const other = reference[row]!;
    const difference = { M: one.M - other.M, J0: one.J0 - other.J0, J45: one.J45 - other.J45 };
    return eyes?.[row] === "left" ? mirrorEye(difference) : difference;
  });
  return {
    meanM: Array.from(test, (one, row) => (one.M + reference[row]!.M) / 2),
    differenceM: differences.map(({ M }) => M),
    differenceJ0: differences.map(({ J0 }) => J0),
    differenceJ45: differences.map(({ J45 }) => J45),
    ageYears: Array.from(test, (_, row) => ageYears?.[row] ?? Number.NaN),
  };
}

/** A view's own cells. */
function cellsOf(
  view: LinkedView,
  columns: ReturnType<typeof columnsOf>,
  audience: "public" | "journal",
): ShownPairs {
  const [x, y] = fields[view].map((name) => columns[name as keyof typeof columns]) as [
    number[],
    number[],
  ];
  if (view === "double-angle") {
    return astigmatismPoints(
      x.map((J0, row) => ({ J0, J45: y[row]! })),
      { audience },
    );
  }
  const rows = x.map((_, row) => row).filter((row) => Number.isFinite(x[row]! + y[row]!));
  // as a mean and a difference: whatever stands for x, the cells are those of x and y
  return differencePoints(
    {
      test: rows.map((row) => x[row]! + y[row]! / 2),
      reference: rows.map((row) => x[row]! - y[row]! / 2),
    },
    { audience },
  );
}

function notLinked(audience: "public" | "journal"): string {
  return audience === "public"
    ? "For the public each view has its own cells, and nothing joins them."
    : "More than 4,000 eyes: each view has its own cells, and nothing joins them.";
}

function requireViews(
  { test, reference, ageYears }: LinkedEyes,
  views: readonly LinkedView[],
): void {
  const caller = "linkedFigures";
  if (test.length !== reference.length || (ageYears?.length ?? test.length) !== test.length) {
    throw new InputError(
      `${caller} requires columns of one length, got ${test.length} test, ${reference.length} reference${ageYears === undefined ? "" : `, ${ageYears.length} ages`}`,
    );
  }
  if (new Set(views).size !== views.length || views.length < 2) {
    throw new InputError(
      `${caller} requires two or three different views, got ${views.join(", ") || "none"}`,
    );
  }
  if (views.includes("age") && ageYears === undefined) {
    throw new InputError(`${caller} requires ageYears for the view "age", got none`);
  }
}
