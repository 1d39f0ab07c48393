import { cellsStep } from "./cellsStep.js";
import { columnsStep } from "./columnsStep.js";
import { button, make } from "./elements.js";
import { filesStep, take } from "./filesStep.js";
import { questionStep } from "./questionStep.js";
import { reportStep } from "./reportStep.js";
import { runStep } from "./runStep.js";
import { emptyState, inWords, type Page, type StepId } from "./state.js";
import { startToolkit } from "./toolkit.js";

const steps = [filesStep, columnsStep, cellsStep, questionStep, runStep, reportStep];
const ways = find("ways");
const whole = find("whole");
const place = find("step");
const said = find("said");
const blocked = find("blocked");
let open: StepId = "files";

const kept = (globalThis as unknown as { readonly blockedHere: string[] }).blockedHere;
document.addEventListener("blocked", showBlocked);
showBlocked();
void start();

async function start(): Promise<void> {
  const toolkit = await startToolkit((what) => {
    kept.push(what);
    showBlocked();
  });
  const known = await toolkit.ask({ task: "begin", packageFiles: [] });
  const page: Page = {
    toolkit,
    known,
    state: emptyState(),
    go(step) {
      open = step;
      page.say("", "done");
      void show(page, true);
    },
    refresh: () => void show(page, false),
    say(text, kind = "done") {
      said.textContent = text;
      said.className = kind;
    },
    async doing(text, work) {
      page.say(`${text} …`, "doing");
      document.body.classList.add("busy");
      try {
        await work();
      } catch (error) {
        page.say(inWords((error as Error).message), "wrong");
      } finally {
        document.body.classList.remove("busy");
        if (said.className === "doing") page.say("", "done");
      }
    },
  };
  window.addEventListener("beforeunload", (event) => {
    const { saved } = page.state;
    if (!saved.key || !saved.report) event.preventDefault();
  });
  // a file dropped beside the place for it would open in place of the page
  window.addEventListener("dragover", (event) => event.preventDefault());
  window.addEventListener("drop", (event) => {
    event.preventDefault();
    if (open === "files") void take(page, [...(event.dataTransfer?.files ?? [])]);
  });
  await show(page, false);
}

let showing = 0;

async function show(page: Page, isNew: boolean): Promise<void> {
  showing++;
  const own = showing;
  const focused = document.activeElement?.id ?? "";
  const step = steps.find(({ id }) => id === open);
  if (step === undefined) return;
  const content = await step.content(page);
  if (own !== showing) return;
  ways.replaceChildren(...steps.map((one, at) => way(page, one, at)));
  const heading = make("h2", { tabindex: "-1" }, step.title);
  place.replaceChildren(heading, ...content);
  if (isNew) {
    heading.focus();
    whole.scrollTo(0, 0);
  } else if (focused !== "") document.getElementById(focused)?.focus();
}

function way(page: Page, { id, title, closed }: (typeof steps)[number], at: number): HTMLElement {
  const why = closed(page.state);
  const control = button(`${at + 1}. ${title}`, () => page.go(id));
  if (id === open) control.setAttribute("aria-current", "step");
  if (why !== null) {
    control.disabled = true;
    control.title = why;
  }
  return make("li", {}, control);
}

/** Something tried to reach out: the browser stopped it, and it is said. */
function showBlocked(): void {
  blocked.hidden = kept.length === 0;
  blocked.textContent = `This browser stopped something in the page (${kept.join("; ")}). Nothing left it; please report this.`;
}

function find(id: string): HTMLElement {
  const found = document.getElementById(id);
  if (found === null) throw new Error(`the page lacks its part ${id}`);
  return found;
}
