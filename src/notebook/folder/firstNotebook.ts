import { caution } from "../../results/index.js";
import { type NotebookCell, notebookText } from "../notebookFile.js";

/** A first notebook on the invented data, without outputs. */
export function firstNotebook(): string {
  const cells: readonly (readonly [NotebookCell["kind"], string])[] = [
    ["markdown", `# A first look\n\n**How far can the reading be trusted?** Invented data.`],
    [
      "code",
      `import {
  areaUnderCurve, differenceAgainstMean, eyePairs, limitsOfAgreement, linkCohort, readFindings,
  readReadings, rocCurve, rocFigure, show,
} from "meridional";`,
    ],
    [
      "code",
      `const readings = await readReadings("../data/invented-readings.csv", { columns: "../columns-readings.json" });
const findings = await readFindings("../data/invented-findings.csv", { columns: "../columns-findings.json" });
show(readings.problems, findings.problems)`,
    ],
    [
      "code",
      `const cohort = linkCohort({ readings, findings, instrument: "handheld" });
const pairs = eyePairs(cohort, { eyes: "right", quantity: "M" });
const agreement = limitsOfAgreement(pairs);
show(agreement)`,
    ],
    ["markdown", `> ${caution}`],
  ];
  return notebookText({
    path: "",
    cells: cells.map(([kind, source]) => ({ kind, source, outputs: [] })),
  });
}
