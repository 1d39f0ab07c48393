import type { FigureSpec, TableModel } from "../../results/index.js";
import type { ReportSection } from "./report.js";

/** Where something stands in a report, in words; "" where it does not. */
export interface Shown {
  /** By the section's id: its title in quotes. */
  readonly section: (id: string) => string;
  /** The first table whose title starts with one of these, tried in turn. */
  readonly table: (...starts: readonly string[]) => string;
  /** By the figure's name: its title. */
  readonly figure: (name: string) => string;
  /** Whether a table whose title starts so has these words in a note. */
  readonly note: (start: string, words: string) => boolean;
  /** A row of a table, by how its first cell starts. */
  readonly row: (start: string, label: string) => string;
}

/** Looks up what sections hold, so that nothing is claimed that is not there. */
export function shownIn(sections: readonly ReportSection[]): Shown {
  const blocks = sections.flatMap(({ blocks }) => blocks);
  const tables = blocks.filter((block): block is TableModel => block.kind === "table");
  const figures = blocks.filter((block): block is FigureSpec => block.kind === "figure");
  const starting = (start: string) => tables.filter(({ title }) => title.startsWith(start));
  return {
    section: (id) => {
      const found = sections.find((one) => one.id === id && one.blocks.length > 0);
      return found === undefined ? "" : `section "${found.title}"`;
    },
    table: (...starts) => {
      const [found] = starts.flatMap(starting);
      return found === undefined ? "" : `table "${found.title}"`;
    },
    figure: (name) => {
      const found = figures.find((one) => one.name === name);
      return found === undefined ? "" : `figure "${found.title}"`;
    },
    note: (start, words) =>
      starting(start).some(({ notes }) => notes.some((note) => note.includes(words))),
    row: (start, label) => {
      const found = starting(start).find(({ rows }) =>
        rows.some(({ cells }) => typeof cells[0] === "string" && cells[0].startsWith(label)),
      );
      return found === undefined ? "" : `table "${found.title}", ${label.toLowerCase()}`;
    },
  };
}
