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
/**
 * Figures are set in 8 points. Sentences are set smaller where that keeps figures from coming out below 7.5, and the
 * last ones are left to the report where it keeps them from coming out below 5: 10 pixels of a page of 1200.
 */
const readable = { easily: 7.5 / 8, atLeast: 5 / 8 } as const;
const scales = [1, 0.92, 0.84] as const;

type Measure = (text: string, size: number, bold: boolean) => number;

/**
 * The first section of a report on one page: statement, title, question, verdict and sentences, its
 * figures in columns, for whom it holds, the caution. It has no number that the report has not.
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
  const columnsUnder = (head: () => { readonly bottom: number }) =>
    columnsOf(drawn, figures, { top: head().bottom + 4, bottom: foot.top - 6 }, measure);
  const fitting =
    heads.slice(0, scales.length).find((head) => columnsUnder(head).fit >= readable.easily) ??
    heads.slice(scales.length - 1).find((head) => columnsUnder(head).fit >= readable.atLeast) ??
    heads.at(-1)!;
  const head = fitting();
  const middle = columnsUnder(fitting).items;
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

/** Figures in two or three columns, each in order, such that the smallest is as large as can be; `fit` is its size over its own. */
function columnsOf(
  drawn: readonly FigureSpec[],
  figures: ReadonlyMap<string, DrawnFigure>,
  { top, bottom }: { readonly top: number; readonly bottom: number },
  measure: Measure,
): { readonly fit: number; readonly items: (PageText | PageFigure)[] } {
  const inColumns = (count: number) => {
    const width = (inner - (count - 1) * gap) / count;
    const placed = drawn.map((figure) => {
      const drawing = drawingOf(figure, figures);
      const titled = textAt(
        figure.title,
        { size: 8.5, bold: true, type: "P", y: 0, width },
        measure,
      );
      return { figure, drawing, widest: Math.min(1, width / drawing.widthPoints), titled };
    });
    /** The size at which a column fits in height; no figure is wider than its column. */
    const fitOf = (column: typeof placed) => {
      const heights = column.map(({ drawing }) => drawing.heightPoints);
      const titles = column.map(({ titled }) => titled.bottom + 3);
      const room = bottom - top - gap * (column.length - 1) - sum(titles);
      return column.length === 0 ? 1 : Math.min(1, room / sum(heights));
    };
    const sizeOf = (column: typeof placed) =>
      Math.min(fitOf(column), ...column.map(({ widest }) => widest));
    // the first figure stands on the left
    const ways = Array.from({ length: count ** Math.max(0, placed.length - 1) }, (_, way) => {
      const columnAt = (at: number) => (at === 0 ? 0 : Math.floor(way / count ** (at - 1)) % count);
      return Array.from({ length: count }, (_, column) =>
        placed.filter((_, at) => columnAt(at) === column),
      );
    });
    const least = (columns: readonly (typeof placed)[]) => Math.min(...columns.map(sizeOf));
    const columns = ways.reduce((best, way) => (least(way) > least(best) ? way : best));
    const items = columns.flatMap((column, at) => {
      let y = top;
      return column.flatMap(({ figure, drawing, widest, titled }): (PageText | PageFigure)[] => {
        const size = Math.min(widest, fitOf(column));
        const height = size * drawing.heightPoints;
        const x = page.margin + at * (width + gap);
        const title = { ...titled.item, x, y: titled.item.y + y };
        const place = { x, y: y + titled.bottom + 3 };
        y = place.y + height + gap;
        const drawnAt = { ...place, width: size * drawing.widthPoints, height };
        return [title, { kind: "figure", svg: drawing.svg, alt: figure.alt, ...drawnAt }];
      });
    });
    return { fit: least(columns), items };
  };
  const [two, three] = [inColumns(2), inColumns(3)];
  return three.fit > two.fit ? three : two;
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
