import { escapeHtml } from "../text/index.js";

/** The part of a reader's problem that is shown; a cell's value is not, since it may identify. */
export interface ShownProblem {
  readonly file: string;
  readonly row: number | null;
  readonly column: string | null;
  readonly rule: string;
  readonly message: string;
  readonly action: string;
}

/** Problems counted by rule and action, most frequent first. */
export function problemsText(problems: readonly ShownProblem[]): string {
  return [headline(problems), ...groups(problems).map(({ line }) => `  ${line}`)].join("\n");
}

/** The same as a list that opens at a click, with the first rows and columns of each rule. */
export function problemsHtml(problems: readonly ShownProblem[]): string {
  const items = groups(problems).map(({ line, members }) => {
    const places = members.slice(0, 20).map((problem) => `<li>${escapeHtml(place(problem))}</li>`);
    const more = members.length > 20 ? `<li>and ${members.length - 20} more</li>` : "";
    return `<details><summary>${escapeHtml(line)}</summary><ul>${places.join("")}${more}</ul></details>`;
  });
  const open = `<details><summary>${headline(problems)}</summary>`;
  return problems.length === 0
    ? `<p>${headline(problems)}</p>`
    : `${open}${items.join("")}</details>`;
}

function headline({ length }: readonly ShownProblem[]): string {
  return length === 0 ? "no problems" : `${length} ${length === 1 ? "problem" : "problems"}`;
}

function groups(problems: readonly ShownProblem[]) {
  const byRule = new Map<string, ShownProblem[]>();
  for (const problem of problems) {
    const key = `${problem.rule} ${problem.action}`;
    const members = byRule.get(key);
    if (members) members.push(problem);
    else byRule.set(key, [problem]);
  }
  return [...byRule.values()]
    .sort((a, b) => b.length - a.length)
    .map((members) => {
      const { rule, action, message } = members[0]!;
      return { members, line: `${members.length} × ${rule} (${action}): ${message}` };
    });
}

function place({ file, row, column }: ShownProblem): string {
  const name = file.split(/[\\/]/).at(-1)!;
  return [name, row === null ? "whole file" : `line ${row}`, column].filter(Boolean).join(", ");
}
