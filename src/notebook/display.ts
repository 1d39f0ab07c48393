import type { Cohort, ParticipantFlow } from "../cohort/index.js";
import { planTable, type StudyPlan } from "../planning/index.js";
import { type PrintedComparison, printedComparisonTable } from "../printed/index.js";
import type { FigureSpec, TableModel } from "../results/index.js";
import { toHtml, toMarkdown } from "../tables/index.js";
import { plainText } from "../text/index.js";
import { estimateText } from "./estimateText.js";
import { figureBundle } from "./figureBundle.js";
import { flowTable } from "./flowTable.js";
import type { MimeBundle } from "./kernelDisplay.js";
import { problemsHtml, problemsText, type ShownProblem } from "./problemsText.js";
import { summaryTable } from "./summaryTable.js";

/** A value in the forms that a notebook page can show; the text is always there. */
interface Display extends MimeBundle {
  readonly "text/plain": string;
}

/** How a value is shown, by its kind; its pictures are drawn here. */
export function displayOf(value: object): Display {
  const kind = "kind" in value ? value.kind : undefined;
  if (kind === "figure") return figureBundle(value as FigureSpec);
  if (Array.isArray(value) && value.every(isProblem)) return problems(value);
  if (kind === "estimate" || kind === "one-sided" || kind === "undefined")
    return { "text/plain": textOf(value) };
  const table = tableDisplay(tableOf(value));
  if (!("problems" in value) || !Array.isArray(value.problems)) return table;
  const list = problems(value.problems);
  return {
    "text/html": `${table["text/html"]}${list["text/html"]}`,
    "text/plain": `${table["text/plain"]}\n${list["text/plain"]}`,
  };
}

/** The same as text alone, without drawing. */
export function textOf(value: object): string {
  return plainText(wordsOf(value));
}

function wordsOf(value: object): string {
  const kind = "kind" in value ? value.kind : undefined;
  if (kind === "figure") return (value as FigureSpec).alt;
  if (kind === "estimate" || kind === "one-sided" || kind === "undefined") {
    return estimateText(value as Parameters<typeof estimateText>[0]);
  }
  return displayOf(value)["text/plain"];
}

function tableOf(value: object): TableModel {
  const kind = "kind" in value ? value.kind : undefined;
  if (kind === "table") return value as TableModel;
  if (kind === "flow") return flowTable(value as ParticipantFlow);
  if (kind === "cohort") return flowTable((value as Cohort).flow);
  if (kind === "printed-comparison") return printedComparisonTable(value as PrintedComparison);
  if (kind === "accuracy-plan" || kind === "agreement-plan" || kind === "area-plan") {
    return planTable(value as StudyPlan);
  }
  return summaryTable(value);
}

function tableDisplay(table: TableModel): Display {
  return { "text/html": toHtml(table), "text/plain": toMarkdown(table) };
}

function problems(list: readonly ShownProblem[]): Display {
  return { "text/html": problemsHtml(list), "text/plain": plainText(problemsText(list)) };
}

function isProblem(item: unknown): item is ShownProblem {
  return typeof item === "object" && item !== null && "rule" in item && "action" in item;
}
