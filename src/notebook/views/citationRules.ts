import type { Citations } from "../../citations/index.js";
import type { TableModel } from "../../results/index.js";
import { rule, type ViewRules } from "./view.js";

const text = (label: string) => ({ label, format: "text" as const });

function table({ entries, withoutSource }: Citations): TableModel {
  return {
    kind: "table",
    title: "What to cite",
    columns: [text("for"), text("source")],
    rows: entries.map(({ standsFor, text: source }) => ({ cells: [standsFor.join("; "), source] })),
    notes: withoutSource.map(({ method, reason }) => `"${method}": ${reason}.`),
  };
}

export const citationRules: ViewRules = {
  citations: rule<Citations>({
    headline: ({ entries }) =>
      `${entries.length - 1} ${entries.length === 2 ? "source" : "sources"} and the toolkit; bibtex holds them as a file.`,
    tables: (citations) => [table(citations)],
  }),
};
