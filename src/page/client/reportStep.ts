import { shareAtOdds } from "../../accuracy/shareAtOdds.js";
import { logitRatio } from "../../accuracy/logitRatio.js";
import { wilsonLimits } from "../../inference/wilsonInterval.js";
import { startBench } from "../../study/publish/benchPage.js";
import { benchReadout, sumOfCounts } from "../../study/publish/benchReadout.js";
import { startRuleBench } from "../../study/publish/ruleBenchPage.js";
import { folders, type PathAndBytes } from "../messages.js";
import { button, list, make, paragraph } from "./elements.js";
import { filesWithin, saveButton, zipButton } from "./save.js";
import type { Page, Step } from "./state.js";

const benchTools = { benchReadout, sumOfCounts, shareAtOdds, wilsonLimits, logitRatio };

export const reportStep: Step = {
  id: "report",
  title: "Take the report",
  closed: ({ outcome }) => (outcome === null ? "Run the study first." : null),
  content(page) {
    const { outcome } = page.state;
    if (outcome === null) return [];
    const { summary, faults, overlaps, isPublic, shown, benches } = outcome;
    // no script runs within it; this page moves its limits
    const sandbox = "allow-same-origin";
    const frame = make("iframe", { title: "The report", sandbox, srcdoc: shown ?? "" });
    frame.addEventListener("load", () => {
      const report = frame.contentDocument as unknown as Parameters<typeof startBench>[2];
      if (!report) return;
      for (const bench of benches) {
        if (bench.kind === "bench") startBench(bench, benchTools, report);
        else startRuleBench(bench, benchTools, report);
      }
    });
    return [
      list(summary, "summary"),
      ...faults.map((fault) => paragraph(`WRONG? ${fault}`, "note")),
      ...overlaps.map((overlap) => paragraph(overlap, "note")),
      ...saves(page, isPublic),
      ...(shown === null ? [] : [make("h3", {}, "The report"), ...inFull(frame)]),
    ];
  },
};

/** The report within the page, and over the whole window where that is wanted; it is the same frame in both. */
function inFull(frame: HTMLElement): HTMLElement[] {
  const back = button("Back to the page", () => dialog.close());
  const dialog = make(
    "dialog",
    { class: "report", open: true, "aria-label": "The report" },
    back,
    frame,
  );
  dialog.addEventListener("close", () => {
    if (!dialog.open) dialog.setAttribute("open", "");
  });
  const open = button("Open the report full size", () => {
    dialog.removeAttribute("open");
    dialog.showModal();
  });
  return [make("p", {}, open), dialog];
}

function saves(page: Page, isPublic: boolean): readonly HTMLElement[] {
  const { state } = page;
  const within = (folder: string) => filesWithin(page, folder);
  const report = within(folders.report);
  const exact = within(`${folders.report}-confidential`);
  const single = [
    "report.html",
    "report.docx",
    "report.md",
    "summary.png",
    "tables/programme.xlsx",
  ];
  if (!isPublic) single.push("result.json", "manifest.json");
  const saved = () => {
    state.saved.report = true;
  };
  const one = (files: readonly PathAndBytes[], names: readonly string[]) =>
    files
      .filter(([path]) => names.includes(path))
      .map(([path, bytes]) => saveButton(path.split("/").at(-1) ?? path, bytes, saved));
  const study = within(folders.study);
  const key = within(folders.key);
  return [
    make("h3", {}, isPublic ? "May be passed on" : "The report's files"),
    make(
      "p",
      { class: "saves" },
      zipButton("Save everything as one ZIP", "report.zip", report, saved),
      ...one(report, single),
      zipButton("Save the tables (CSV)", "tables.zip", part(report, "tables/")),
      zipButton("Save the figures (SVG, PNG)", "figures.zip", part(report, "figures/")),
    ),
    paragraph(
      "A PDF is made by the browser: open the saved report.html and print it to a file.",
      "quiet",
    ),
    ...(exact.length === 0
      ? []
      : [
          make(
            "div",
            { class: "apart" },
            paragraph("Exact counts, not to be passed on"),
            make(
              "p",
              { class: "saves" },
              zipButton("Save the exact result", "report-confidential.zip", exact),
            ),
          ),
        ]),
    make("h3", {}, "To run it again"),
    make(
      "p",
      { class: "saves" },
      ...one(study, ["protocol.json", "columns.json"]),
      zipButton("Save the study files with both", "my-study.zip", study),
    ),
    ...(key.length === 0
      ? []
      : [
          make(
            "div",
            { class: "apart" },
            paragraph("Key table, never passed on"),
            make(
              "p",
              { class: "saves" },
              zipButton("Save the key table", "my-study-key.zip", key, () => {
                state.saved.key = true;
              }),
            ),
          ),
        ]),
    ...(isPublic
      ? [
          paragraph(
            "A page remembers no earlier report. Where reports about some of these children were passed on before, compare them first with the command line: a difference of a few children would show them.",
            "quiet",
          ),
        ]
      : []),
  ];
}

const part = (files: readonly PathAndBytes[], start: string) =>
  files.filter(([path]) => path.startsWith(start));
