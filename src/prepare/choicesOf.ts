import type { ColumnChoices, FileChoices, PreparationChoices } from "./choices.js";
import { matchWords, type Seen } from "./openQuestions.js";
import type { ColumnPlan } from "./write/columnPlan.js";

/** The answers as they stand, with what was detected, what is lost, and null where something is asked. */
export function choicesOf(
  seen: Seen & { readonly left: readonly (readonly number[])[] },
): PreparationChoices & { $schema: string } {
  const { detected, link, ignored, period } = seen;
  return {
    $schema: "./prepare.schema.json",
    kind: "preparation-choices",
    version: 1,
    note: "What was detected. Go through it, change what is wrong, put an answer in place of every null, and run the same command again.",
    ids: {
      ignore: ignored === null ? null : [...ignored],
      wouldMatch: link.best.matched,
      note: seen.read.some(({ sheets }) => sheets !== undefined)
        ? "compared once every sheet is named"
        : matchWords(link),
    },
    period: period ?? {
      every: "none",
      note: "A calendar period that is kept when the dates go: none, year, half-year, or school-year (then schoolYearStarts, 1 to 12).",
    },
    files: detected.map((_, at) => fileChoices(seen, at)),
  };
}

function fileChoices(
  {
    read,
    detected,
    plans,
    answers,
    left,
  }: Seen & { readonly left: readonly (readonly number[])[] },
  at: number,
): FileChoices {
  const { file, holds } = detected[at];
  const { sheets, encoding, table } = read[at];
  const before = answers[at];
  if (sheets !== undefined) {
    const name = studyName(file, null, []);
    return {
      ...{ file, as: before?.as ?? name, holds: null, sheet: null, columns: {} },
      note: ["asked: which sheet of the workbook?", `sheets: ${sheets.join(", ")}`],
    };
  }
  // the name that a workbook had before its sheet was known is nobody's choice
  const own = Object.keys(before?.columns ?? {}).length > 0 ? before?.as : undefined;
  return {
    file,
    as:
      own ??
      studyName(
        file,
        holds,
        detected.map((one) => one.holds),
      ),
    holds: holds === null ? null : [...holds],
    ...(before?.encoding === undefined && encoding === undefined
      ? {}
      : { encoding: before?.encoding ?? encoding }),
    ...(before?.delimiter === undefined ? {} : { delimiter: before.delimiter }),
    ...(before?.sheet === undefined ? {} : { sheet: before.sheet }),
    rowsLeftOut: left[at].length,
    note: [
      `${table.n} rows`,
      ...(encoding === undefined ? [] : ["the file is no UTF-8; look at letters with accents"]),
      ...(left[at].length === 0
        ? []
        : [`rows of another width, or without a child: line ${left[at].slice(0, 3).join(", ")}`]),
    ],
    columns: Object.fromEntries(
      plans[at].map((plan) => {
        const { column } = plan.detected;
        const own = Object.hasOwn(before?.columns ?? {}, column)
          ? before?.columns[column]
          : undefined;
        return [column, columnChoices(plan, own?.fate === "drop")];
      }),
    ),
  };
}

/** @param goes whether a person said so: then what the column is needs no answer */
function columnChoices(
  { detected, fate, loses, lost, examples }: ColumnPlan,
  goes: boolean,
): ColumnChoices {
  const { is, eye, eyes, block, of, order, century, unit, notation, because, questions, facts } =
    detected;
  const asked = new Set(questions.map(({ key }) => key));
  const show = (key: "eyes" | "order" | "century" | "unit" | "notation", value: unknown) =>
    asked.has(key) || value !== null ? { [key]: value } : {};
  const dated = is === "date" || is === "birth-date";
  return {
    fate: asked.has("is") && !goes ? null : fate,
    is: asked.has("is") ? null : is,
    ...(eye === null && !asked.has("eye") ? {} : { eye }),
    ...show("eyes", eyes),
    ...(block === "" ? {} : { block }),
    ...(of === null && !asked.has("of") ? {} : { of }),
    ...(dated ? { ...show("order", order), ...show("century", century) } : {}),
    ...show("unit", unit),
    ...show("notation", notation),
    ...(loses === 0 && fate !== "drop" ? {} : { loses }),
    note: [
      because,
      `${facts.filled} of ${facts.rows} cells filled, such as ${examples.map((cell) => `"${cell}"`).join(", ") || "none"}`,
      ...(loses === 0 ? [] : [`loses ${loses} cells: ${lost}`]),
      ...(goes ? [] : questions).map(
        ({ key, ask, allowed }) =>
          `asked: ${ask}? One of ${allowed.join(", ")}${key === "is" ? '; or "fate": "drop" alone, and it goes' : ""}`,
      ),
    ],
  };
}

/** "readings.csv" where one file holds them, else the file's own name. */
function studyName(
  file: string,
  holds: readonly string[] | null,
  all: readonly (readonly string[] | null)[],
): string {
  const own = `${file.replace(/\.[^.]*$/, "").replace(/[^\w-]+/g, "-")}.csv`;
  if (holds === null) return own;
  const name = holds.length === 2 ? "measurements" : (holds[0] ?? "children");
  const alike = all.filter((one) => one?.join() === holds.join()).length;
  return alike === 1 ? `${name}.csv` : own;
}
