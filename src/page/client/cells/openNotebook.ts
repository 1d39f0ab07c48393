import { type Notebook, notebookOf } from "../../../notebook/notebookFile.js";
import { notebookText } from "../../../notebook/notebookText.js";
import { make } from "../elements.js";
import { saveText } from "../save.js";
import { type CellWorker, startCellWorker } from "./cellWorker.js";
import { type CodeCell, codeCell } from "./codeCell.js";
import { type Embedded, filesOf } from "./embedded.js";
import { filesPart } from "./filesPart.js";
import { find, say } from "./places.js";
import { proseHtml } from "./safeHtml.js";

/** Lays a notebook out in the page, and runs its cells when asked. */
export function openNotebook(own: Embedded, onBlocked: (what: string) => void): void {
  const notebook = notebookIn(own);
  const written = new Map<string, Uint8Array>();
  /** Files that nobody has saved. */
  const lost = new Set<string>();
  let unsaved = false;
  let busy = false;
  let stopped = false;

  const cells: (CodeCell | null)[] = [];
  const parts = notebook.cells.map((cell) => {
    if (cell.kind !== "code") {
      cells.push(null);
      const prose = make("div", { class: "prose" });
      if (cell.kind === "markdown") prose.append(proseHtml(cell.source));
      else
        prose.append(
          make("pre", { tabindex: "0", role: "group", "aria-label": "Text" }, cell.source),
        );
      return prose;
    }
    const number = cells.filter((one) => one !== null).length + 1;
    const code = codeCell(cell, number, {
      onRun: () => void runCells([code]),
      onRunTo: () => void runFromTop(code),
      onChange: () => {
        unsaved = true;
      },
    });
    cells.push(code);
    return code.element;
  });
  const code = cells.filter((one) => one !== null);
  find("cells").replaceChildren(...parts);
  if (document.querySelector("#cells h1") === null) {
    find("cells").prepend(make("h1", {}, own.name));
  }
  showFiles();

  const ready: Promise<CellWorker> = filesOf(own).then((files) =>
    startCellWorker(own.folder, files, onBlocked),
  );
  ready.catch((error: Error) => say(error.message, "wrong"));

  control("run-all", () => void runFromTop(code.at(-1)));
  control("stop", () => void stop());
  control("save", () => {
    saveText(
      own.name,
      notebookText(current(), ({ kind }) => kind),
    );
    unsaved = false;
  });
  setBusy(false);
  window.addEventListener("beforeunload", (event) => {
    if (unsaved || lost.size > 0) event.preventDefault();
  });

  /** From the first cell, in a worker that knows nothing yet. */
  async function runFromTop(last: CodeCell | undefined): Promise<void> {
    if (busy || last === undefined) return;
    if (code.some((cell) => cell.hasRun())) {
      (await ready).restart();
      for (const cell of code) cell.forget();
    }
    await runCells(code.slice(0, code.indexOf(last) + 1));
  }

  async function runCells(list: readonly CodeCell[]): Promise<void> {
    if (busy) return;
    setBusy(true);
    stopped = false;
    const began = performance.now();
    try {
      const worker = await ready;
      for (const cell of list) {
        say(`Cell ${cell.number} of ${code.length} is running …`, "doing");
        const failed = await cell.run(worker);
        for (const [path, bytes] of cell.written()) {
          written.set(path, bytes);
          lost.add(path);
        }
        showFiles();
        if (failed) {
          const isFirst = code.slice(0, cell.number - 1).some((above) => !above.hasRun());
          const above = isFirst ? " Cells above it have not been run." : "";
          return say(`Cell ${cell.number} failed.${above}`, "wrong");
        }
      }
      const seconds = ((performance.now() - began) / 1000).toFixed(1);
      const many = list.length === 1 ? `Cell ${list[0]?.number}` : `${list.length} cells`;
      say(`${many} ran in ${seconds} s.`);
    } catch (error) {
      if (!stopped) say((error as Error).message, "wrong");
    } finally {
      setBusy(false);
    }
  }

  async function stop(): Promise<void> {
    stopped = true;
    (await ready).restart();
    for (const cell of code) cell.forget();
    say("Stopped. What the cells had declared is gone: run them again from the top.", "wrong");
  }

  function setBusy(now: boolean): void {
    busy = now;
    document.body.classList.toggle("busy", now);
    for (const button of document.querySelectorAll<HTMLButtonElement>("button.run")) {
      button.disabled = now;
    }
    (find("stop") as HTMLButtonElement).disabled = !now;
  }

  function showFiles(): void {
    find("files").replaceChildren(...filesPart(own, written, (path) => lost.delete(path)));
  }

  /** The notebook as it stands in the page. */
  function current(): Notebook {
    return {
      ...notebook,
      cells: notebook.cells.map((cell, at) => {
        const changed = cells[at];
        return changed ? { ...cell, source: changed.source(), outputs: changed.outputs() } : cell;
      }),
    };
  }

  function control(id: string, onclick: () => void): void {
    find(id).addEventListener("click", onclick);
  }
}

function notebookIn({ text, name }: Embedded): Notebook {
  const notebook = notebookOf(JSON.parse(text), name);
  if (notebook === undefined) throw new Error("the page holds no notebook");
  return notebook;
}
