import type { JournalStyle } from "../../protocol/index.js";
import type { FigureSpec, TableModel } from "../../results/index.js";
import type { Bench } from "../publish/benchHtml.js";
import type { RuleBench } from "../publish/ruleBenchHtml.js";

/** A piece of a report. Text is plain; writers escape it. */
export type ReportBlock =
  | {
      readonly kind: "paragraph";
      readonly text: string;
      readonly emphasis?: "caution" | "headline";
    }
  | { readonly kind: "list"; readonly items: readonly string[] }
  | TableModel
  | FigureSpec
  | Bench
  | RuleBench;

export interface ReportSection {
  /** Short stable name, used for links. */
  readonly id: string;
  readonly title: string;
  readonly blocks: readonly ReportBlock[];
}

/** A report as data: what the writers to HTML, Word, PDF and Markdown share. */
export interface Report {
  readonly kind: "report";
  readonly title: string;
  /** First line of the report, before anything else. */
  readonly statement: string;
  readonly caution: string;
  readonly style: JournalStyle;
  readonly sections: readonly ReportSection[];
}
