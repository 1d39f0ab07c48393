import { folders } from "../messages.js";
import { button, labelled, list, make, paragraph } from "./elements.js";
import { isDraft, takeDraft } from "./loadDraft.js";
import { emptyState, type Page, type Step, written } from "./state.js";
import { taken } from "./takeFiles.js";

export const filesStep: Step = {
  id: "files",
  title: "Bring the files",
  closed: () => null,
  content(page) {
    const { state } = page;
    const chooser = make("input", { type: "file", multiple: true });
    chooser.addEventListener("change", () => void take(page, [...(chooser.files ?? [])]));
    const key = make("input", { type: "file", multiple: true, accept: ".csv" });
    key.addEventListener("change", () => void takeKey(page, [...(key.files ?? [])]));
    const place = make(
      "div",
      { class: "place" },
      labelled(
        "Files of the study",
        chooser,
        "One file that holds readings and exam findings, or two files. CSV, TSV and XLSX. They can also be dropped anywhere on this step.",
      ),
    );
    const chosen = state.exports.map((name) =>
      make(
        "li",
        {},
        `${name}, ${size(page.toolkit.files.get(`${folders.raw}/${name}`)?.length ?? 0)} `,
        button(`Take ${name} away`, () => {
          changeFiles(
            page,
            state.exports.filter((one) => one !== name),
          );
          page.refresh();
        }),
      ),
    );
    return [
      paragraph(
        "The files are read on this computer and stay on it. The page has no way to send anything, and keeps nothing: when its tab is closed, all is gone that was not saved.",
      ),
      place,
      chosen.length === 0 ? "" : make("ul", { class: "chosen" }, ...chosen),
      state.exports.length > 0
        ? make(
            "p",
            {},
            button("Look at the columns", () => page.go("columns"), "next"),
          )
        : "",
      make(
        "p",
        {},
        button("Take invented data to practise", () => {
          void page.doing("making up children", async () => {
            startAnew(page, []);
            const { names } = await page.toolkit.ask({ task: "practice" });
            state.exports = [...names];
            page.refresh();
            page.say(
              `${names.join(" and ")}: invented children, of whom nothing can be learnt.`,
              "done",
            );
          });
        }),
      ),
      make(
        "details",
        {},
        make("summary", {}, "Go on with something saved before"),
        list([
          'A draft: choose above the ZIP that "Save the draft" or "Save the study files" made, as it is; or protocol.json and columns.json together with the study files that they name.',
          "A key table: choose children.csv, and codes.csv beside it, here. Children in it keep their study numbers.",
        ]),
        labelled(
          "Key table",
          key,
          "children.csv and codes.csv, as this page or the command line wrote them",
        ),
      ),
    ];
  },
};

/** Files of another choice: what was made of the old ones goes; what a person wrote is joined to the next draft. */
function changeFiles(page: Page, names: readonly string[]): void {
  const earlier = written(page.state);
  startAnew(page, names);
  page.state.earlier = earlier;
}

/** Another study. */
function startAnew(page: Page, names: readonly string[]): void {
  const { toolkit, state } = page;
  const kept = names.map((name) => [name, toolkit.files.get(`${folders.raw}/${name}`)] as const);
  const { keyFiles } = state;
  for (const folder of Object.values(folders)) toolkit.forget(folder);
  toolkit.forget(`${folders.report}-confidential`);
  Object.assign(state, emptyState());
  for (const [name, bytes] of kept) {
    if (bytes === undefined) continue;
    toolkit.put(`${folders.raw}/${name}`, bytes);
    state.exports.push(name);
  }
  state.keyFiles = keyFiles;
}

/** Takes files that were chosen, or dropped on this step. */
export async function take(page: Page, files: readonly File[]): Promise<void> {
  if (files.length === 0) return;
  await page.doing("reading the files", async () => {
    const chosen = new Map<string, Uint8Array>();
    for (const file of files) chosen.set(file.name, await bytesOf(file, page.known.largestFile));
    const { files: read, refused } = taken(chosen, page.known.largestFile);
    if (read.size === 0) throw new Error(refused.join(" "));
    if (isDraft(read)) {
      startAnew(page, []);
      takeDraft(page, read);
      page.go("question");
      if (refused.length > 0) page.say(refused.join(" "), "wrong");
      return;
    }
    changeFiles(
      page,
      page.state.exports.filter((name) => !read.has(name)),
    );
    for (const [name, bytes] of read) {
      page.toolkit.put(`${folders.raw}/${name}`, bytes);
      page.state.exports.push(name);
    }
    page.refresh();
    const said = `${[...read.keys()].join(" and ")}: read.`;
    if (refused.length === 0) page.say(said, "done");
    else page.say([...refused, said].join(" "), "wrong");
  });
}

async function takeKey(page: Page, files: readonly File[]): Promise<void> {
  await page.doing("reading the key table", async () => {
    for (const file of files) {
      if (file.name !== "children.csv" && file.name !== "codes.csv") {
        throw new Error(`A key table is called children.csv or codes.csv; this is ${file.name}.`);
      }
      const bytes = await bytesOf(file, page.known.largestFile);
      page.state.keyFiles.set(`${folders.key}/${file.name}`, bytes);
    }
    // what was made without it is made anew
    page.state.preparation = null;
    page.say("The key table is read; it is continued.", "done");
  });
}

async function bytesOf(file: File, most: number): Promise<Uint8Array> {
  if (file.size > most) {
    throw new Error(
      `${file.name} has ${size(file.size)}; a page takes files of at most ${size(most)}. Leave columns out that are ` +
        "not needed, or use the command line, which reads larger files in parts.",
    );
  }
  try {
    return new Uint8Array(await file.arrayBuffer());
  } catch {
    throw new Error(
      `${file.name} cannot be read: it was changed or moved after it was chosen, it is a folder, or another program ` +
        "holds it. Close it there and choose it once more.",
    );
  }
}

function size(bytes: number): string {
  return bytes < 1e6 ? `${Math.ceil(bytes / 1e3)} kB` : `${(bytes / 1e6).toFixed(1)} MB`;
}
