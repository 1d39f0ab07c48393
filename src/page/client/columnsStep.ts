import type { Preparation } from "../../prepare/index.js";
import { folders } from "../messages.js";
import { agreementTo, answersOf, keyOf } from "./answers.js";
import { columnTable, fileMenus } from "./columnTable.js";
import { button, list, make, openSigns, paragraph } from "./elements.js";
import { filesWithin, zipButton } from "./save.js";
import { inWords, type Page, type Step, written } from "./state.js";

export const columnsStep: Step = {
  id: "columns",
  title: "Say what the columns are",
  closed: ({ exports }) => (exports.length === 0 ? "Bring the files first." : null),
  async content(page) {
    const { state } = page;
    if (state.preparation === null) await lookAgain(page);
    const found = state.preparation;
    if (found === null) return [paragraph("The files could not be read; see below.")];
    return [
      ...(state.earlier === null
        ? []
        : [
            paragraph(
              "What was written in the later steps is kept; it is joined to the changed columns there.",
              "note",
            ),
          ]),
      paragraph(
        "What each column was taken for, and what becomes of it in the study files: study numbers in place of ids, days in place of dates, ages in place of dates of birth. Cells are shown masked: letters as a, digits as 9.",
      ),
      ...asked(page, found),
      ...found.files.flatMap((file) => [
        make("h3", {}, `${file.file}: ${file.rowCount} rows`),
        ...fileMenus(page, found, file, () => void again(page)),
        columnTable(page, found, file, () => void again(page)),
      ]),
      ...losses(page, found),
      ...made(page, found),
    ];
  },
};

/** Asks the detector, with the answers as they stand. */
async function lookAgain(page: Page): Promise<void> {
  const { state, toolkit } = page;
  await page.doing("looking at the columns", async () => {
    // an earlier look of this page is forgotten; a key table that was brought along is continued anew
    for (const folder of [folders.key, folders.study]) toolkit.forget(folder);
    for (const [path, bytes] of state.keyFiles) toolkit.put(path, bytes);
    state.preparation = await toolkit.ask(
      {
        task: "prepare",
        names: state.exports,
        ...(state.answers === null ? {} : { choices: agreementTo(state.answers, state.agreed) }),
      },
      (stage) => page.say(stage, "doing"),
    );
    state.answers = answersOf(state.preparation.choices);
    for (const { file, column, key, allowed } of state.preparation.questions) {
      state.asked.set(keyOf(file, column, key), allowed);
    }
    for (const { file, columns } of state.preparation.files) {
      for (const { column, because } of columns) {
        const key = keyOf(file, column);
        if (!state.reasons.has(key)) state.reasons.set(key, because);
      }
    }
    state.earlier = written(state);
    Object.assign(state, {
      carried: null,
      drafted: null,
      study: null,
      columns: null,
      protocol: null,
      audits: null,
      outcome: null,
    });
    state.saved.key = !state.preparation.written;
    page.say("", "done");
  });
}

async function again(page: Page): Promise<void> {
  await lookAgain(page);
  page.refresh();
}

/** What only a person can say, first of all. */
function asked({ state }: Page, { questions, link }: Preparation): readonly HTMLElement[] {
  const parts: HTMLElement[] = [];
  if (questions.length > 0) {
    parts.push(
      make(
        "div",
        { class: "note", role: "note" },
        make("strong", {}, `${questions.length} to answer: only you can know.`),
        list(
          questions.map(({ file, column, ask }) =>
            [[file, column].filter((part) => part !== null).join(", "), ask]
              .filter((part) => part !== "")
              .join(": "),
          ),
        ),
        paragraph(`The menus that wait for an answer are marked "${openSigns}" below.`),
      ),
    );
  }
  if (state.exports.length > 1 && link.matches.length > 0) {
    parts.push(paragraph(`Children in both files: ${link.matched} match as things stand.`));
  }
  return parts;
}

function losses(page: Page, { unseenLosses: all, questions }: Preparation): readonly HTMLElement[] {
  // what is lost of a column depends on what is answered first
  const unseenLosses = all.filter(
    ({ file, column }) =>
      !questions.some((one) => one.file === file && one.column === column && column !== null),
  );
  if (unseenLosses.length === 0) return [];
  const agree = (which: typeof unseenLosses) => {
    for (const { file, column, loses } of which) page.state.agreed.set(keyOf(file, column), loses);
    void again(page);
  };
  return [
    make("h3", {}, "What would be lost"),
    paragraph("Nothing is lost unasked. To keep a column, change what becomes of it above."),
    make(
      "ul",
      {},
      ...unseenLosses.map((loss) => {
        const what =
          loss.column === null
            ? `${loss.loses} rows of ${loss.file}`
            : `${loss.loses} cells of ${loss.column} (${loss.file})`;
        const agreeing = button("Agree", () => agree([loss]));
        agreeing.setAttribute("aria-label", `Agree to lose ${what}`);
        return make("li", {}, `${what} `, agreeing);
      }),
    ),
    make(
      "p",
      {},
      button("Agree to all of these", () => agree(unseenLosses)),
    ),
  ];
}

/** The study files, once they are made. */
function made(page: Page, found: Preparation): readonly (HTMLElement | string)[] {
  if (!found.written) return [];
  const { state } = page;
  return [
    make("h3", {}, "The study files are made"),
    list([
      ...found.look.map((line) => `Look: ${line}`),
      ...found.outOfOrder
        .slice(0, 5)
        .map(({ file, line, what }) => `${file}, line ${line}: ${what}; kept as it is`),
      ...found.leftOut.map(
        ({ file, column, why }) => `${file}, ${column}, not read by the study: ${inWords(why)}`,
      ),
    ]),
    paragraph(found.note, "quiet"),
    make(
      "div",
      { class: "apart" },
      paragraph(
        "Key table, never passed on. It is the only way back from study numbers to children.",
      ),
      make(
        "p",
        {},
        zipButton("Save the key table", "my-study-key.zip", filesWithin(page, folders.key), () => {
          state.saved.key = true;
        }),
      ),
    ),
    make(
      "p",
      {},
      zipButton("Save the study files", "my-study.zip", filesWithin(page, folders.study)),
      " ",
      button("Look at the cells", () => page.go("cells"), "next"),
    ),
  ];
}
