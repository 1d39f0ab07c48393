import { button, list, make, paragraph } from "./elements.js";
import { protocolInWords } from "./protocolInWords.js";
import { shareDone } from "./shareDone.js";
import { inWords, type Page, type Step } from "./state.js";
import { openWords, stillOpen } from "./unwritten.js";

export const runStep: Step = {
  id: "run",
  title: "Run it",
  closed: ({ protocol }) => (protocol === null ? "Write the question down first." : null),
  content(page) {
    const { protocol, outcome, columns, decider } = page.state;
    const open = stillOpen(protocol, page.known.published, decider);
    const needed = open.some(({ isNeeded }) => isNeeded);
    return [
      paragraph(
        "The study runs as the protocol says. The same files and protocol give the same numbers on every machine. Read it once more before you see a result:",
      ),
      list(protocolInWords(protocol, { published: page.known.published, columns, decider })),
      ...(open.length === 0
        ? []
        : [
            paragraph(
              `${openWords(open)} ${needed ? "It cannot run without." : "The report will say so."}`,
              "note",
            ),
          ]),
      make(
        "p",
        {},
        button("Run the study", () => void run(page), "next"),
      ),
      outcome === null
        ? ""
        : make(
            "p",
            {},
            button("See the report", () => page.go("report")),
          ),
    ];
  },
};

async function run(page: Page): Promise<void> {
  const { state, toolkit } = page;
  const bar = make("progress", { max: "1", "aria-label": "How far the run is" });
  const stage = make("p", { role: "status" }, "beginning");
  let stopped = false;
  state.outcome = null;
  const stop = button("Stop the run", () => {
    stopped = true;
    void toolkit.stop();
  });
  const shown = make("dialog", { "aria-label": "The study runs" }, stage, bar, make("p", {}, stop));
  shown.addEventListener("cancel", (event) => event.preventDefault());
  document.body.append(shown);
  shown.showModal();
  try {
    state.outcome = await toolkit.ask({ task: "study", protocol: state.protocol }, (name, done) => {
      // the numbers are not all: the report comes after them
      stage.textContent = name === "done" ? "beginning the report" : name;
      bar.value = Math.max(bar.value, shareDone(name, done));
    });
    state.saved.report = false;
  } catch (error) {
    if (stopped) page.say("The run was stopped. Nothing of it was kept.", "done");
    else page.say(inWords((error as Error).message), "wrong");
  } finally {
    shown.close();
    shown.remove();
  }
  if (state.outcome !== null) page.go("report");
}
