import { button, list, make, paragraph } from "./elements.js";
import type { Json } from "./json.js";
import { inWords, type Page, type Step } from "./state.js";

export const runStep: Step = {
  id: "run",
  title: "Run it",
  closed: ({ protocol }) => (protocol === null ? "Write the question down first." : null),
  content(page) {
    const { protocol, outcome } = page.state;
    return [
      paragraph(
        "The study runs as the protocol says. The same files and protocol give the same numbers on every machine.",
      ),
      list([
        `Title: ${protocol.title}`,
        `Question: ${protocol.question}`,
        protocol.audience === "public"
          ? "The report is for anybody; exact counts go to a part of their own."
          : "The report is for colleagues who may see every eye.",
      ]),
      ...unwritten(protocol),
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

/** Texts of the draft that nobody has written yet. */
function unwritten(protocol: Json): readonly HTMLElement[] {
  const texts = [
    ["the title", protocol.title],
    ["the question", protocol.question],
    ["the instrument", protocol.indexTest.description],
    ["the exam", protocol.referenceStandard.description],
    ...protocol.conditions.map(({ title }: Json) => ["the condition in words", title]),
  ];
  const left = texts.filter(([, text]) => /^to be written/i.test(text)).map(([name]) => name);
  if (left.length === 0) return [];
  return [paragraph(`Still to be written: ${left.join(", ")}. The report will say so.`, "note")];
}

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
      stage.textContent = name;
      bar.value = done;
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
