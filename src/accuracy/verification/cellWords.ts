import type { RatedCell } from "./cellRates.js";
import type { VerificationCell, VerificationCells } from "./verificationCells.js";

const recordedWords = {
  refer: "whom the programme referred",
  pass: "who passed",
  unable: "who could not be read",
} as const;

/**
 * Why cells without a single exam leave no point estimate. No counts: they stand in `cells`, and may
 * be too small for a public report.
 */
export function emptyCellWords(cells: readonly RatedCell[]): string {
  const [first] = cells;
  if (first.blindDecision) {
    const decision = cells.filter(({ recorded }) => recorded === first.recorded);
    if (decision.every(({ recorded, studied }) => recorded === "pass" && studied === "pass")) {
      return decision.some(({ knownOnly }) => knownOnly > 0)
        ? "children who passed were examined, but none is known to have been drawn at random"
        : "no child who passed was examined: the missed are unknown";
    }
  }
  return cells
    .map((cell) =>
      cell.knownOnly > 0
        ? `nobody stands for the children ${cellWords(cell)}: those examined were not drawn at random`
        : `none of the children ${cellWords(cell)} was examined`,
    )
    .join("; ");
}

/** "who passed and whom the rule under study refers, share 0.1". */
function cellWords({ recorded, studied, group }: VerificationCell): string {
  const same = recorded === studied;
  const rule = same
    ? ""
    : ` and whom the rule under study ${studied === "refer" ? "refers" : "passes"}`;
  return `${recordedWords[recorded]}${rule}${group === "" ? "" : ` (${group})`}`;
}

/** What a reader has to know about the correction. */
export function notesOnCells(
  { knownOnly }: VerificationCells,
  cells: readonly RatedCell[],
  bias: number | null,
): string[] {
  const notes = [
    "Right only if, within each group of decision and rule, being examined depended on nothing else.",
  ];
  for (const cell of cells.filter(({ borrows }) => borrows)) {
    notes.push(
      `None of the children ${cellWords(cell)} was examined: they take the rate of all ${recordedWords[cell.recorded]}.`,
    );
  }
  if (bias !== null) {
    notes.push(
      `Fewer than 10 missed cases were drawn: on average sensitivity lies about ${bias.toFixed(3)} above the truth.`,
    );
  }
  const only = Object.values(knownOnly).reduce((sum, count) => sum + count, 0);
  if (only > 0) {
    notes.push(
      "Passes who were examined without being drawn, or for an unknown reason, stand for nobody: they are in the bounds and in the known counts only.",
    );
  }
  return notes;
}
