import { caution } from "../../results/index.js";
import type { NotebookCell } from "../notebookFile.js";
import { idFromSource } from "../notebookOnDisk.js";
import { notebookText } from "../notebookText.js";

/** A first notebook on the invented data, without outputs. */
export function firstNotebook(): string {
  const cells: readonly (readonly [NotebookCell["kind"], string])[] = [
    ["markdown", `# A first look\n\n**How far can the reading be trusted?** Invented data.`],
    [
      "code",
      `import {
  defineColumns, differenceAgainstMeanFigure, eyePairs, limitsOfAgreement, linkCohort, readFindings,
  readReadings, show,
} from "meridional";
import { readFileSync } from "node:fs";`,
    ],
    ["markdown", "What the readers noticed; nothing is repaired."],
    [
      "code",
      `const columnsOf = ["readings", "findings"].map((side) =>
  defineColumns(JSON.parse(readFileSync(\`../columns-\${side}.json\`, "utf8"))),
);
const readings = await readReadings("../data/invented-readings.csv", { columns: columnsOf[0] });
const findings = await readFindings("../data/invented-findings.csv", { columns: columnsOf[1] });
show(readings.problems, findings.problems)`,
    ],
    ["markdown", "Every eye is somewhere in the flow."],
    [
      "code",
      `const cohort = linkCohort({ readings, findings, instrument: "handheld" });
show(cohort)`,
    ],
    ["markdown", "Right eyes; reading minus finding."],
    [
      "code",
      `const pairs = eyePairs(cohort, { eyes: "right", quantity: "M" });
const agreement = limitsOfAgreement(pairs);
show(agreement.bias, agreement.lower, agreement.upper)`,
    ],
    ["code", "show(differenceAgainstMeanFigure(agreement, pairs))"],
    ["markdown", `> ${caution}`],
  ];
  const notebook = {
    path: "",
    cells: cells.map(([kind, source]) => ({ kind, source, outputs: [] })),
  };
  return notebookText(notebook, idFromSource);
}
