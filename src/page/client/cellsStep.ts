import type { FileAudit } from "../../cohort/index.js";
import { carriedOver } from "./carryOver.js";
import { acceptance, codeDecisions, wordDecisions } from "./decisions.js";
import { button, labelled, list, make, paragraph, table } from "./elements.js";
import { type Json, parsedText } from "./json.js";
import { placeOf } from "./placeOf.js";
import { deciderOf } from "./programme.js";
import { saveText } from "./save.js";
import { inWords, type Page, type State, type Step } from "./state.js";
import { withoutLimits } from "./unwritten.js";

export const cellsStep: Step = {
  id: "cells",
  title: "Look at the cells",
  closed(state) {
    if (state.isLoaded)
      return state.columns === null && state.protocol !== null
        ? "This draft has a mapping for each file."
        : null;
    return state.preparation?.written ? null : "Say what the columns are first.";
  },
  async content(page) {
    const { state } = page;
    await draftOnce(page);
    if (state.columns !== null && state.audits === null) await audit(page);
    return [
      ...carriedNote(state),
      paragraph(
        "Every cell that cannot be used as it stands, by column and reason. Nothing is repaired. Where it is too much, the mapping below may be wrong: the sign of cylinders, a word for an eye that could not be measured, the unit of ages.",
      ),
      ...(state.audits ?? []).flatMap((audit) => audited(page, audit)),
      ...mappingAsText(page),
      make(
        "p",
        {},
        button("Write the question down", () => page.go("question"), "next"),
      ),
    ];
  },
};

/** What became of what was written before a column was changed. */
export function carriedNote({ carried }: State): readonly HTMLElement[] {
  return carried === null ? [] : [paragraph(carried, "note")];
}

/** The mapping and a starting protocol, as `draft` proposes them, with what was written before. */
export async function draftOnce(page: Page): Promise<void> {
  const { state, toolkit } = page;
  if (state.protocol !== null) return;
  const names = state.isLoaded ? state.study : preparedNames(page);
  if (names === null) return;
  await page.doing("drafting the mapping and the protocol", async () => {
    const { files } = await toolkit.ask({ task: "draft", ...names });
    const drafted = {
      columns: files["columns.json"],
      protocol: withoutLimits(files["protocol.json"]),
    };
    state.study = names;
    state.drafted = structuredClone(drafted);
    if (state.earlier === null) Object.assign(state, drafted);
    else await joinEarlier(page, state.earlier, drafted);
    if (state.decider === "") state.decider = deciderOf(state.protocol, state.columns);
    page.say("", "done");
  });
}

function preparedNames(page: Page): State["study"] {
  const [readings, findings] = (["readings", "findings"] as const).map((kind) =>
    page.state.preparation?.files.find(({ holds }) => holds?.includes(kind)),
  );
  if (readings !== undefined && findings !== undefined) {
    return { readings: readings.as, findings: findings.as };
  }
  page.say(
    `No file holds ${readings === undefined ? "readings" : "findings"}: say so of one, under "Say what the columns are".`,
    "wrong",
  );
  return null;
}

/** Joins what was written before to a new draft; a mapping that no longer fits the files is let go, and it is said. */
async function joinEarlier(
  page: Page,
  { drafted, mine }: NonNullable<State["earlier"]>,
  fresh: NonNullable<State["drafted"]>,
): Promise<void> {
  const { state } = page;
  const { lost, protocol, columns } = carriedOver(drafted, mine, fresh);
  const notKept = [...lost];
  Object.assign(state, { protocol, columns });
  try {
    await auditNow(page);
    putMapping(page);
  } catch {
    notKept.push("what was changed in the mapping, which no longer fits the files");
    Object.assign(state, { columns: fresh.columns, audits: null });
  }
  state.earlier = null;
  state.carried =
    notKept.length === 0
      ? "The files or columns were changed. All that was written before is kept."
      : `The files or columns were changed. What was written before is kept, but for: ${notKept.join("; ")}.`;
}

/** The mapping as it stands, among the study files. */
function putMapping({ toolkit, state }: Page): void {
  const { columns } = state.protocol.sources.readings;
  toolkit.put(placeOf(columns), new TextEncoder().encode(asText(state.columns)));
}

async function auditNow({ toolkit, state }: Page): Promise<void> {
  const { study, columns } = state;
  if (study === null || columns === null) return;
  state.audits = await toolkit.ask({ task: "audit", ...study, columns });
}

async function audit(page: Page): Promise<void> {
  await page.doing("looking at every cell", async () => {
    await auditNow(page);
    page.say("", "done");
  });
}

function audited(
  page: Page,
  { file, rowCount, identifiers, parts, setAside }: FileAudit,
): HTMLElement[] {
  const change = (how: (columns: Json) => void) =>
    void takeOver(page, () => {
      const columns: Json = structuredClone(page.state.columns);
      how(columns);
      return columns;
    });
  const shown: HTMLElement[] = [
    make("h3", {}, `${file}: ${rowCount} rows, ${setAside} cells set aside`),
  ];
  if (identifiers.length > 0) {
    shown.push(
      list(
        identifiers.map(
          ({ column, kind, because }) => `${column} looks like ${kind}, by its ${because}`,
        ),
        "note",
      ),
    );
  }
  for (const part of parts) {
    const { kind, n, byColumn, faults } = part;
    for (const { eyes, of, message, rule } of faults) {
      shown.push(
        paragraph(`WRONG? ${eyes} of ${of} eyes: ${inWords(message)}.`, "note"),
        acceptance(rule, change),
      );
    }
    if (byColumn.length === 0) {
      shown.push(
        paragraph(`${n} ${kind}: no cell needs a decision.`),
        ...codeDecisions(part, page.state.columns, change),
      );
      continue;
    }
    const rows = byColumn.map(({ column, rule, action, count, share, message, places }) => [
      column ?? "whole rows",
      `${count} (${share > 0 && share < 0.001 ? "below 0.1" : (100 * share).toFixed(1)} %)`,
      action.replace("-", " "),
      `${inWords(message)} (${rule})`,
      places
        .filter(({ row, value }) => row !== null && value !== "")
        .map(({ row, value }) => `"${value}" in line ${row}`)
        .join(", "),
    ]);
    shown.push(
      table(`${n} ${kind}`, ["Column", "How many", "What is done", "Why", "Such as"], rows),
    );
    shown.push(
      ...wordDecisions(part, page.state.columns, change),
      ...codeDecisions(part, page.state.columns, change),
    );
  }
  return shown;
}

function mappingAsText(page: Page): readonly (HTMLElement | string)[] {
  const { state } = page;
  if (state.columns === null) return [];
  const text = make("textarea", { rows: "16", spellcheck: "false", id: "mapping-text" });
  text.value = JSON.stringify(state.columns, null, 2);
  return [
    make(
      "details",
      {},
      make("summary", {}, "The mapping as text: what each column means"),
      labelled("columns.json", text, "Take a change over to see what it does to the cells."),
      make(
        "p",
        {},
        button(
          "Take the change over",
          () => void takeOver(page, () => parsedText("columns.json", text.value)),
        ),
        " ",
        button("Save columns.json", () => saveText("columns.json", asText(state.columns))),
      ),
    ),
  ];
}

/** Takes another mapping over, where it holds. */
async function takeOver(page: Page, given: () => Json): Promise<void> {
  const { state } = page;
  const before: Pick<State, "columns" | "audits"> = {
    columns: state.columns,
    audits: state.audits,
  };
  await page.doing("looking at every cell", async () => {
    try {
      state.columns = given();
      if (state.study === null) return;
      await auditNow(page);
    } catch (error) {
      Object.assign(state, before);
      throw error;
    }
    state.outcome = null;
    putMapping(page);
    page.refresh();
    page.say("The mapping is taken over.", "done");
  });
}

export const asText = (json: object) => `${JSON.stringify(json, null, 2)}\n`;
