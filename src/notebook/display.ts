import type { MimeBundle } from "../platform/index.js";
import type { FigureSpec, TableModel } from "../results/index.js";
import { toHtml, toMarkdown } from "../tables/index.js";
import { escapeHtml, plainText } from "../text/index.js";
import { figureBundle } from "./figureBundle.js";
import { frameTable, isFrame } from "./frameTable.js";
import { liveBundle } from "./live/liveBundle.js";
import { problemsHtml, problemsText, type ShownProblem } from "./problemsText.js";
import { type DrawnRows, type DrawnVectors, estimateText, viewOf } from "./views/index.js";

/** A value in the forms that a notebook page can show; the text is always there. */
interface Display extends MimeBundle {
  readonly "text/plain": string;
}

export interface ShowOptions {
  /** False where no figure is wanted beside the numbers. */
  readonly figure?: boolean;
  /** True where figures are to answer: marks say their numbers, limits move, selections go across. */
  readonly live?: boolean;
}

/** How a value is shown, by its kind: words and tables, then a picture of its own; pictures are drawn here. */
export function displaysOf(
  value: object,
  rows: DrawnRows | DrawnVectors | null = null,
  { figure = true, live = false }: ShowOptions = {},
): Display[] {
  const kind = kindOf(value);
  const drawn = live ? liveBundle : figureBundle;
  if (kind === "figure") return [drawn(value as FigureSpec)];
  if (kind === "table") return [tables("", [value as TableModel])];
  if (isFrame(value)) return [tables("", [frameTable(value)])];
  if (Array.isArray(value) && value.every(isProblem)) return [problems(value)];
  if (isEstimate(kind)) return [{ "text/plain": textOf(value) }];
  const view = viewOf(value, rows, figure);
  const words = tables(view.headline, view.tables);
  const listed = "problems" in value && Array.isArray(value.problems) ? value.problems : null;
  const first = listed === null ? words : joined(words, problems(listed));
  return view.figure === null ? [first] : [first, drawn(view.figure)];
}

/** The same as text alone, without drawing. */
export function textOf(value: object, rows: DrawnRows | DrawnVectors | null = null): string {
  return plainText(wordsOf(value, rows));
}

function wordsOf(value: object, rows: DrawnRows | DrawnVectors | null): string {
  const kind = kindOf(value);
  if (kind === "figure") return (value as FigureSpec).alt;
  if (isEstimate(kind)) return estimateText(value as Parameters<typeof estimateText>[0]);
  return displaysOf(value, rows, { figure: false })[0]!["text/plain"];
}

const kindOf = (value: object): unknown => ("kind" in value ? value.kind : undefined);

const isEstimate = (kind: unknown): boolean =>
  kind === "estimate" || kind === "one-sided" || kind === "undefined";

function tables(headline: string, list: readonly TableModel[]): Display {
  const html = list.map((table) => toHtml(table));
  const text = list.map((table) => toMarkdown(table));
  return {
    "text/html": [...(headline === "" ? [] : [`<p>${escapeHtml(headline)}</p>`]), ...html].join(""),
    "text/plain": [...(headline === "" ? [] : [headline]), ...text].join("\n\n"),
  };
}

function joined(first: Display, second: Display): Display {
  return {
    "text/html": `${first["text/html"]}${second["text/html"]}`,
    "text/plain": `${first["text/plain"]}\n${second["text/plain"]}`,
  };
}

function problems(list: readonly ShownProblem[]): Display {
  return { "text/html": problemsHtml(list), "text/plain": plainText(problemsText(list)) };
}

function isProblem(item: unknown): item is ShownProblem {
  return typeof item === "object" && item !== null && "rule" in item && "action" in item;
}
