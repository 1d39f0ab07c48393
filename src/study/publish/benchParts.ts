import { shareAtOdds, logitRatio } from "../../accuracy/index.js";
import { wilsonLimits } from "../../inference/index.js";
import { escapeHtml } from "../../text/index.js";
import { type BenchTools, benchReadout, type ReportPage, sumOfCounts } from "./benchReadout.js";

/** What the page's script is made of. */
export const benchTools: BenchTools = {
  benchReadout,
  sumOfCounts,
  shareAtOdds,
  wilsonLimits,
  logitRatio,
};

/** The id of a part of a bench, and what it says at its start. */
export interface BenchNames {
  readonly name: (part: string) => string;
  readonly said: (part: string) => string;
}

export function benchNames(id: string, texts: ReadonlyMap<string, string>): BenchNames {
  const name = (part: string) => `bench-${id}-${part}`;
  return { name, said: (part) => escapeHtml(texts.get(name(part)) ?? "") };
}

export interface ValuesTable {
  readonly caption: string;
  /** What stands before the headings of the two columns. */
  readonly headings: readonly [string, string];
  /** What a row is, such as "children". */
  readonly row: string;
  /** "95 %". */
  readonly level: string;
  /** How the estimates are counted, where that differs from the counts. */
  readonly counting: string;
  readonly thousand: string;
  /** The rows that there are; all where it is not given. */
  readonly shown?: readonly string[];
}

/** The two columns of numbers, filled as at the start. */
export function valuesTable({ name, said }: BenchNames, table: ValuesTable): string {
  const body = groupsOf(table)
    .map(([title, rows]) => {
      const own = rows.filter(([part]) => table.shown?.includes(part) ?? true);
      return own.length === 0
        ? ""
        : `<tbody><tr><th scope="rowgroup" colspan="3">${escapeHtml(title)}</th></tr>
${own
  .map(
    ([part, label]) =>
      `<tr><th scope="row">${label}</th><td id="${name(part)}">${said(part)}</td><td id="${name(`other-${part}`)}">${said(`other-${part}`)}</td></tr>`,
  )
  .join("\n")}</tbody>`;
    })
    .join("\n");
  const heading = (side: "" | "other-", words: string) =>
    `<th scope="col">${words} <span id="${name(`${side}heading`)}">${said(`${side}heading`)}</span></th>`;
  return `<table><caption>${table.caption}</caption>
<thead><tr><td></td>${heading("", table.headings[0])}${heading("other-", table.headings[1])}</tr></thead>
${body}</table>`;
}

const groupsOf = ({ row, level, counting, thousand }: ValuesTable) =>
  [
    [
      `Counts (${row})`,
      [
        ["truePositive", "Referred, with the condition"],
        ["falsePositive", "Referred, without it"],
        ["falseNegative", "Passed, with the condition (missed)"],
        ["trueNegative", "Passed, without it"],
      ],
    ],
    [
      `Estimates${counting} (${level} intervals)`,
      [
        ["sensitivity", "Sensitivity"],
        ["specificity", "Specificity"],
        ["positive", "Positive predictive value"],
        ["negative", "Negative predictive value"],
      ],
    ],
    [
      `${thousand} (${level} intervals)`,
      [
        ["referred", "Referred"],
        ["rightly", "Referred, with the condition"],
        ["wrongly", "Referred, without it"],
        ["missed", "Passed, with the condition (missed)"],
        ["beyond", "Referred beyond the exams there are"],
        ["burden", "Needless referrals, and missed by your weight"],
      ],
    ],
  ] as const;

const fields = {
  prevalence: "Prevalence in another population, %",
  capacity: "Exams that there are for 1000 screened",
  weight: "One missed weighs as much as how many needless referrals (your own weight)",
} as const;
export type BenchField = keyof typeof fields;

/** What the reader types. */
export function benchFields({ name }: BenchNames, asked: readonly BenchField[]): string {
  return asked
    .map((part) => {
      const assumed =
        part === "prevalence"
          ? ` aria-describedby="${name("assumption")}">
<span id="${name("assumption")}" class="standing" aria-live="polite"></span>`
          : ">";
      return `<p><label for="${name(part)}">${fields[part]}</label>
<input type="text" inputmode="decimal" size="6" id="${name(part)}"${assumed}</p>`;
    })
    .join("\n");
}

/** What the page's script writes at its start, for readers without scripts: the same function, on a page of plain objects. */
export function startTexts(start: (page: ReportPage) => void): ReadonlyMap<string, string> {
  const parts = new Map<string, { textContent: string | null }>();
  const made = () => ({
    value: "",
    textContent: null,
    className: "",
    hidden: false,
    setAttribute: () => undefined,
    addEventListener: () => undefined,
  });
  start({
    getElementById: (id) => {
      const part = parts.get(id) ?? made();
      parts.set(id, part);
      return part as ReturnType<typeof made>;
    },
  });
  return new Map([...parts].map(([id, { textContent }]) => [id, textContent ?? ""]));
}

/** Twelve digits: the last ones of a number differ between machines, and a page shows three. */
export function rounded12<Value>(value: Value): Value {
  return JSON.parse(
    JSON.stringify(value, (_, item) =>
      typeof item === "number" && !Number.isInteger(item) ? Number(item.toPrecision(12)) : item,
    ),
  );
}
