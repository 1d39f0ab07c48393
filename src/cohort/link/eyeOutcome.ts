import {
  type EquivalentSource,
  type EyeOutcome,
  eyeOutcomes,
  type Findings,
  type Readings,
} from "../types.js";
import type { Eligibility } from "./eligibility.js";
import type { RefusedFinding } from "./refusedFinding.js";

interface LinkedEye {
  readonly eligible: Eligibility;
  readonly readings: Readings;
  readonly findings: Findings;
  /** Row of the reading, of the finding; -1 where there is none. */
  readonly reading: number;
  readonly finding: number;
  /** Why none of the findings of the eye counts, if it has some. */
  readonly refused: RefusedFinding | null;
  readonly pending: boolean;
  readonly confidenceAtLeast?: number;
  readonly readingEquivalent: EquivalentSource;
  readonly referenceEquivalent: EquivalentSource;
}

/** Code of how far one eye came on the way to a pair of equivalents. */
export function eyeOutcome(eye: LinkedEye): number {
  return eyeOutcomes.indexOf(outcomeOf(eye));
}

function outcomeOf({
  eligible,
  readings,
  findings,
  reading,
  finding,
  ...eye
}: LinkedEye): EyeOutcome {
  if (eligible !== "eligible") return eligible;
  if (reading < 0) return "no-reading";
  const status = readings.status.labels[readings.status.codes[reading]];
  if (status !== "measured") return status;
  const score = readings.confidenceScore?.[reading];
  if (eye.confidenceAtLeast !== undefined && !((score ?? Number.NaN) >= eye.confidenceAtLeast)) {
    return "low-confidence";
  }
  if (!hasEquivalent(readings, reading, eye.readingEquivalent)) return "reading-incomplete";
  if (finding < 0) return eye.refused ?? (eye.pending ? "pending" : "lost");
  if (findings.status.labels[findings.status.codes[finding]] !== "measured")
    return "finding-unusable";
  return hasEquivalent(findings, finding, eye.referenceEquivalent)
    ? "paired"
    : "finding-incomplete";
}

function hasEquivalent(data: Readings | Findings, row: number, source: EquivalentSource): boolean {
  const equivalent =
    source === "stated"
      ? (data.statedEquivalent?.[row] ?? Number.NaN)
      : data.sphere[row] + data.cylinder[row];
  return !Number.isNaN(equivalent);
}
