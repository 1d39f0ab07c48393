import type { Part } from "../figureSpec.js";
import { colours, page, sizes } from "../theme.js";
import { wrapped } from "../words.js";

/** A thousand of some children (or eyes), by what a referral does to them. */
export interface ThousandPanel {
  /** Whom the thousand are of: "1000 children screened". */
  readonly of: string;
  /** The outcomes, in the order in which their marks stand. */
  readonly parts: readonly OutcomePart[];
  /** What the marks say that no part takes: that counts are coarse, or that nobody knows; "" where parts make up all. */
  readonly open?: string;
}

export interface OutcomePart {
  readonly outcome: "rightly-referred" | "wrongly-referred" | "missed" | "rightly-passed";
  /** Share of the panel, 0 to 1; of a range its lower end; null where it is not known. */
  readonly share: number | null;
  /** The number with its interval, as the tables print it: "45 (38 to 53)". */
  readonly words: string;
}

/** The four outcomes in words, as key, tables and text have them. */
export const outcomeWords = {
  "rightly-referred": "referred, with the condition",
  "wrongly-referred": "referred, without it",
  missed: "passed, with the condition (missed)",
  "rightly-passed": "passed, without it",
} as const;

const columns = 50;
const grid = { pitch: 4.5, left: 4, line: 10.5, gap: 9 };

type Kind = OutcomePart["outcome"] | "open";

/** In the order of the marks, from the upper left on. */
const order: readonly Kind[] = [
  "rightly-referred",
  "wrongly-referred",
  "missed",
  "open",
  "rightly-passed",
];

/** Shape and filling tell the kinds apart without colour; squares are drawn as dashes of a row's line. */
const points = {
  missed: { shape: "diamond", size: 17, fill: colours.second, stroke: colours.ink },
  open: { shape: "circle", size: 9, fill: page, stroke: colours.quiet },
  "rightly-passed": { shape: "circle", size: 3, fill: colours.quiet, stroke: null },
} as const;
const squares = {
  "rightly-referred": [{ side: 3.3, colour: colours.first }],
  "wrongly-referred": [
    { side: 3.3, colour: colours.first },
    { side: 2.1, colour: page },
  ],
} as const;

interface Mark {
  readonly kind: Kind;
  readonly x: number;
  readonly y: number;
}

interface Line {
  readonly text: string;
  readonly x: number;
  readonly y: number;
  readonly weight: "regular" | "semibold";
}

/** Where every mark and every line of the key stands, in points from the upper left. */
export interface PlacedOutcomes {
  readonly marks: readonly Mark[];
  readonly lines: readonly Line[];
  readonly height: number;
}

export function placedOutcomes(panels: readonly ThousandPanel[]): PlacedOutcomes {
  const marks: Mark[] = [];
  const lines: Line[] = [];
  let y = 6;
  for (const panel of panels) {
    lines.push({ text: `Of ${panel.of}`, x: grid.left - 2, y, weight: "semibold" });
    y += grid.line;
    for (const [at, kind] of kindsOf(panel).entries()) {
      marks.push({
        kind,
        x: grid.left + (at % columns) * grid.pitch,
        y: y + Math.floor(at / columns) * grid.pitch,
      });
    }
    y += (1000 / columns) * grid.pitch + 4;
    for (const { kind, text } of keyOf(panel)) {
      marks.push({ kind, x: grid.left, y });
      for (const line of wrapped(text, 58)) {
        lines.push({ text: line, x: grid.left + 7, y, weight: "regular" });
        y += grid.line;
      }
    }
    y += grid.gap;
  }
  return { marks, lines, height: y - grid.gap };
}

function keyOf({ parts, open = "" }: ThousandPanel): { kind: Kind; text: string }[] {
  const own = order.flatMap((kind) => {
    const part = parts.find(({ outcome }) => outcome === kind);
    return part === undefined
      ? []
      : [{ kind, text: `${capital(outcomeWords[part.outcome])}: ${part.words}` }];
  });
  return open === "" ? own : [...own, { kind: "open", text: open }];
}

/** A kind for each of the thousand. */
function kindsOf({ parts }: ThousandPanel): Kind[] {
  const exact = parts.map(({ share }) => 1000 * (share ?? 0));
  const whole = exact.map((marks) => Math.floor(marks + 1e-9));
  const left = 1000 - whole.reduce((sum, marks) => sum + marks, 0);
  const makeUpAll = Math.abs(1000 - exact.reduce((sum, marks) => sum + marks, 0)) < 1e-6;
  if (makeUpAll) {
    const byRest = exact
      .map((marks, at) => ({ at, rest: marks - whole[at]! }))
      .sort((one, other) => other.rest - one.rest || one.at - other.at);
    for (const { at } of byRest.slice(0, left)) whole[at]!++;
  }
  const count = (kind: Kind) => {
    const at = parts.findIndex(({ outcome }) => outcome === kind);
    if (at >= 0) return whole[at]!;
    return kind === "open" && !makeUpAll ? left : 0;
  };
  return order.flatMap((kind) => Array.from({ length: Math.max(0, count(kind)) }, () => kind));
}

/** Marks kind by kind, then the words, on a plane of so many points: a dash and a place have one scale. */
export function outcomeLayers(
  { marks, lines }: PlacedOutcomes,
  plane: { readonly width: number; readonly height: number },
): readonly Part[] {
  const place = (domain: readonly [number, number]) => ({
    type: "quantitative",
    axis: null,
    scale: { domain, nice: false, zero: false },
  });
  const x = { field: "x", ...place([0, plane.width]) };
  const y = { field: "y", ...place([plane.height, 0]) };
  const of = (kind: Kind) => marks.filter((mark) => mark.kind === kind);
  const single = (Object.keys(points) as (keyof typeof points)[]).map((kind): Part => {
    const { shape, size, fill, stroke } = points[kind];
    const edge = stroke === null ? {} : { stroke, strokeWidth: sizes.thin };
    return {
      data: { values: of(kind).map((mark) => at(mark)) },
      mark: { type: "point", shape, size, filled: true, fill, ...edge },
      encoding: { x, y },
    };
  });
  const dashes = (Object.keys(squares) as (keyof typeof squares)[]).flatMap((kind) =>
    squares[kind].map(
      ({ side, colour }): Part => ({
        data: { values: rowsOf(of(kind), side) },
        mark: {
          type: "rule",
          color: colour,
          strokeWidth: side,
          strokeDash: [side, Math.round(100 * (grid.pitch - side)) / 100],
        },
        encoding: { x, y, x2: { field: "x2" } },
      }),
    ),
  );
  const texts = (["semibold", "regular"] as const).map(
    (weight): Part => ({
      data: {
        values: lines
          .filter((line) => line.weight === weight)
          .map((line) => ({ ...at(line), text: line.text })),
      },
      mark: {
        type: "text",
        align: "left",
        baseline: "middle",
        fontWeight: weight === "semibold" ? 600 : 400,
      },
      encoding: { x, y, text: { field: "text" } },
    }),
  );
  return [...dashes, ...single, ...texts];
}

/** Neighbours in a row as one line, from the left edge of the first square to the right edge of the last. */
function rowsOf(marks: readonly Mark[], side: number) {
  const rows: { x: number; x2: number; y: number }[] = [];
  for (const mark of marks) {
    const { x, y } = at(mark);
    const last = rows.at(-1);
    const ends = Math.round(100 * (x + side / 2)) / 100;
    if (last?.y === y && x - last.x2 < grid.pitch) last.x2 = ends;
    else rows.push({ x: Math.round(100 * (x - side / 2)) / 100, x2: ends, y });
  }
  return rows;
}

const at = ({ x, y }: { readonly x: number; readonly y: number }) => ({
  x: Math.round(100 * x) / 100,
  y: Math.round(100 * y) / 100,
});

const capital = (text: string) => `${text.charAt(0).toUpperCase()}${text.slice(1)}`;
