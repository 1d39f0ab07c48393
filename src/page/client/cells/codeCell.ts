import {
  type CellOutput,
  mergeStreams,
  type NotebookCell,
} from "../../../notebook/notebookFile.js";
import type { PathAndBytes } from "../../messages.js";
import { button, make } from "../elements.js";
import type { CellWorker } from "./cellWorker.js";
import { cellEditor } from "./editor.js";
import { outputElement } from "./outputs.js";

/** A cell of code as one sees it: its editor, and what it left behind. */
export interface CodeCell {
  readonly number: number;
  readonly element: HTMLElement;
  /** Runs it; true where it failed. @throws where the worker was ended */
  run(worker: CellWorker): Promise<boolean>;
  source(): string;
  outputs(): readonly CellOutput[];
  /** Files that its last run wrote. */
  written(): readonly PathAndBytes[];
  /** Whether it has run in the worker that there is. */
  hasRun(): boolean;
  /** The worker is another one. */
  forget(): void;
}

interface Doing {
  readonly onRun: () => void;
  readonly onRunTo: () => void;
  readonly onChange: () => void;
}

export function codeCell(cell: NotebookCell, number: number, doing: Doing): CodeCell {
  let outputs: readonly CellOutput[] = cell.outputs;
  let files: readonly PathAndBytes[] = [];
  let ran = false;
  const name = `Cell ${number}`;
  const state = make("span", { class: "quiet state" }, outputs.length > 0 ? "saved output" : "");
  const editor = cellEditor(cell.source, `${name}, TypeScript`, {
    onRun: doing.onRun,
    onChange() {
      state.textContent = outputs.length > 0 ? "changed since its output" : "";
      doing.onChange();
    },
  });
  const run = button("Run", doing.onRun, "run");
  run.setAttribute("aria-label", `Run ${name.toLowerCase()}`);
  const runTo = button("Run from the top to here", doing.onRunTo, "run");
  runTo.setAttribute("aria-label", `Run from the top to here, ${name.toLowerCase()}`);
  const shown = make("div", { class: "outputs" });
  const show = () => {
    const label = (at: number) => `${name}, output ${at + 1}`;
    shown.replaceChildren(...outputs.map((output, at) => outputElement(output, label(at))));
  };
  show();
  const heading = make("div", { class: "cell-head" }, make("strong", {}, name), run, runTo, state);
  return {
    number,
    element: make("section", { class: "cell", "aria-label": name }, heading, editor.element, shown),
    async run(worker) {
      outputs = [];
      files = [];
      editor.mark(null);
      state.textContent = "running";
      show();
      try {
        const ended = await worker.run(number, editor.source(), (output) => {
          outputs = mergeStreams([...outputs, output]);
          show();
        });
        ran = !ended.failed;
        files = ended.files;
        const where = ended.line === null ? "" : `, in line ${ended.line}`;
        state.textContent = ended.failed ? `failed${where}` : "ran";
        if (ended.failed) editor.mark(ended.line);
        return ended.failed;
      } catch (error) {
        state.textContent = "stopped";
        throw error;
      }
    },
    source: editor.source,
    outputs: () => outputs,
    written: () => files,
    hasRun: () => ran,
    forget() {
      ran = false;
    },
  };
}
