import type { FigureSpec } from "../../results/index.js";
import { printSigns, sum, unbroken } from "../../rows/index.js";
import type { Report, ReportBlock } from "../report/report.js";
import { isVerdict } from "../report/verdictWords.js";
import { type DrawnFigure, drawingOf } from "./drawnFigure.js";

/** Lines of one text, in points from the upper left corner of the page; y is the first line's base. */
export interface PageText {
  readonly kind: "text";
  readonly type: "H1" | "P";
  readonly lines: readonly string[];
  readonly x: number;
  readonly y: number;
  readonly size: number;
  readonly lineHeight: number;
  readonly bold: boolean;
}

export interface PageFigure {
  readonly kind: "figure";
  readonly svg: string;
  readonly alt: string;
  readonly x: number;
  readonly y: number;
  readonly width: number;
  readonly height: number;
}

/** A ground behind a text. */
export interface PageGround {
  readonly kind: "ground";
  readonly x: number;
  readonly y: number;
  readonly width: number;
  readonly height: number;
}

/** One page of A4 in reading order. */
export interface SummaryPage {
  readonly title: string;
  readonly width: number;
  readonly height: number;
  readonly items: readonly (PageText | PageFigure | PageGround)[];
}

const page = { width: 595.28, height: 841.89, margin: 44 } as const;
const inner = page.width - 2 * page.margin;
const gap = 14;
/** Below this much room figures could not be read. */
const leastRoom = 250;
/** Text is set smaller where it leaves less than figures are easily read in; sentences go only for `leastRoom`. */
const goodRoom = 420;
const scales = [1, 0.92, 0.84] as const;

type Measure = (text: string, size: number, bold: boolean) => number;

/**
 * The first section of a report on one page: statement, title, question, verdict and sentences, its
 * figures in two columns, for whom it holds, the caution. It has no number that the report has not.
 *
 * Text that leaves no room for figures is set smaller; sentences beyond the page are left to the report.
 */
export function summaryPage(
  { title, statement, caution, sections }: Report,
  figures: ReadonlyMap<string, DrawnFigure>,
  measure: Measure,
): SummaryPage {
  const blocks = sections[0]!.blocks;
  const paragraphs = blocks.filter((block) => block.kind === "paragraph");
  const drawn = blocks.filter((block): block is FigureSpec => block.kind === "figure");
  // the first is the question, the last for whom it holds
  const forWhom = paragraphs.at(-1)!;
  const said = paragraphs.slice(0, -1);
  const foot = footOf(caution, forWhom.text, measure);
  const headAt = (scale: number, kept: number) =>
    headOf({ title, statement, said: said.slice(0, kept), scale }, measure);
  const tries = [
    ...scales.map((scale) => ({ scale, kept: said.length })),
    ...said.slice(1).map((_, at) => ({ scale: scales.at(-1)!, kept: said.length - 1 - at })),
  ];
  const heads = tries.map(
    ({ scale, kept }) =>
      () =>
        headAt(scale, kept),
  );
  const leaves = (room: number) => (head: () => { readonly bottom: number }) =>
    head().bottom <= foot.top - room;
  const fitting =
    heads.slice(0, scales.length).find(leaves(goodRoom)) ??
    heads.slice(scales.length - 1).find(leaves(leastRoom)) ??
    heads.at(-1)!;
  const head = fitting();
  const middle = columnsOf(drawn, figures, { top: head.bottom + 4, bottom: foot.top - 6 }, measure);
  const { width, height } = page;
  return { title, width, height, items: [...head.items, ...middle, ...foot.items] };
}

type Paragraph = Extract<ReportBlock, { readonly kind: "paragraph" }>;

function headOf(
  {
    title,
    statement,
    said,
    scale,
  }: {
    readonly title: string;
    readonly statement: string;
    readonly said: readonly Paragraph[];
    readonly scale: number;
  },
  measure: Measure,
) {
  const items: PageText[] = [];
  let y = page.margin;
  const put = (text: string, size: number, look: Partial<Pick<PageText, "bold" | "type">> = {}) => {
    const { bold = false, type = "P" } = look;
    const one = textAt(text, { size: size * scale, bold, type, y, width: inner }, measure);
    items.push(one.item);
    y = one.bottom + 0.35 * size * scale;
  };
  put(statement, 9, { bold: true });
  put(title, 15, { bold: true, type: "H1" });
  const [question, ...sentences] = said;
  put(question!.text, 10.5);
  for (const { text } of sentences) put(text, 9, { bold: isVerdict(text) });
  return { items, bottom: y };
}

/** For whom it holds, and the caution on its ground, at the foot of the page. */
function footOf(caution: string, forWhom: string, measure: Measure) {
  const beside = 8;
  const width = inner - 2 * beside;
  const looks = { size: 8.5, bold: false, type: "P" } as const;
  const height = textAt(caution, { ...looks, y: 0, width }, measure).bottom + 2 * beside;
  const groundTop = page.height - page.margin - height;
  const who = textAt(forWhom, { ...looks, y: 0, width: inner }, measure).bottom;
  const top = groundTop - who - 6;
  const ground: PageGround = { kind: "ground", x: page.margin, y: groundTop, width: inner, height };
  return {
    top,
    items: [
      textAt(forWhom, { ...looks, y: top, width: inner }, measure).item,
      ground,
      textAt(caution, { ...looks, y: groundTop + beside, width, x: page.margin + beside }, measure)
        .item,
    ],
  };
}

/** Figures in two columns, each in order, such that the smallest is as large as can be. */
function columnsOf(
  drawn: readonly FigureSpec[],
  figures: ReadonlyMap<string, DrawnFigure>,
  { top, bottom }: { readonly top: number; readonly bottom: number },
  measure: Measure,
): (PageText | PageFigure)[] {
  const width = (inner - gap) / 2;
  const placed = drawn.map((figure) => {
    const drawing = drawingOf(figure, figures);
    const titled = textAt(figure.title, { size: 8.5, bold: true, type: "P", y: 0, width }, measure);
    return { figure, drawing, scale: Math.min(1, width / drawing.widthPoints), titled };
  });
  const fitOf = (column: typeof placed) => {
    const heights = column.map(({ drawing, scale }) => scale * drawing.heightPoints);
    const titles = column.map(({ titled }) => titled.bottom + 3);
    const room = bottom - top - gap * (column.length - 1) - sum(titles);
    return column.length === 0 ? 1 : Math.min(1, room / sum(heights));
  };
  // the first figure stands on the left
  const ways = Array.from({ length: 2 ** Math.max(0, placed.length - 1) }, (_, way) => {
    const isRight = (at: number) => at > 0 && Math.floor(way / 2 ** (at - 1)) % 2 === 1;
    return [placed.filter((_, at) => !isRight(at)), placed.filter((_, at) => isRight(at))];
  });
  const least = (columns: readonly (typeof placed)[]) => Math.min(...columns.map(fitOf));
  const columns = ways.reduce((best, way) => (least(way) > least(best) ? way : best));
  return columns.flatMap((column, at) => {
    const fit = fitOf(column);
    let y = top;
    return column.flatMap(({ figure, drawing, scale, titled }): (PageText | PageFigure)[] => {
      const height = fit * scale * drawing.heightPoints;
      const x = page.margin + at * (width + gap);
      const title = { ...titled.item, x, y: titled.item.y + y };
      const place = { x, y: y + titled.bottom + 3 };
      y = place.y + height + gap;
      const size = { width: fit * scale * drawing.widthPoints, height };
      return [title, { kind: "figure", svg: drawing.svg, alt: figure.alt, ...place, ...size }];
    });
  });
}

function textAt(
  text: string,
  {
    size,
    bold,
    type,
    y,
    width,
    x = page.margin,
  }: Pick<PageText, "size" | "bold" | "type" | "y"> & {
    readonly width: number;
    readonly x?: number;
  },
  measure: Measure,
): { readonly item: PageText; readonly bottom: number } {
  const lineHeight = 1.3 * size;
  const lines = linesOf(unbroken(printSigns(text)), width, (line) => measure(line, size, bold));
  return {
    item: { kind: "text", type, lines, x, y: y + 0.95 * size, size, lineHeight, bold },
    bottom: y + lines.length * lineHeight,
  };
}

/** Words in lines no wider than this; a wider word has a line of its own. */
function linesOf(text: string, width: number, measure: (line: string) => number): string[] {
  const lines: string[] = [];
  for (const word of text.split(/[^\S\u00a0]+/)) {
    const last = lines.at(-1);
    const longer = `${last} ${word}`;
    if (last !== undefined && measure(longer) <= width) lines[lines.length - 1] = longer;
    else lines.push(word);
  }
  return lines;
}
