import {
  type EquivalentSource,
  type EyeOutcome,
  eyeOutcomes,
  type Findings,
  type Readings,
} from "../types.js";
import type { Eligibility } from "./eligibility.js";
import type { RefusedFinding } from "./refusedFinding.js";

/** What all eyes of a cohort share. */
interface LinkedData {
  readonly readings: Readings;
  readonly findings: Findings;
  readonly confidenceAtLeast?: number;
  readonly readingEquivalent: EquivalentSource;
  readonly referenceEquivalent: EquivalentSource;
}

/**
 * Code of how far one eye came on the way to a pair of equivalents. Millions of eyes are asked for one by one,
 * so that none is made an object.
 *
 * @param eligible "exam-only" where no row of the readings has the child's number: nobody knows who that was
 * @param reading row of the reading, -1 where there is none; `finding` likewise
 * @param refused why none of the findings of the eye counts, if it has some
 */
export function eyeOutcome(
  data: LinkedData,
  eligible: Eligibility | "exam-only",
  reading: number,
  finding: number,
  refused: RefusedFinding | null,
  pending: boolean,
): number {
  return codes[outcomeOf(data, eligible, reading, finding, refused, pending)];
}

const codes = Object.fromEntries(eyeOutcomes.map((outcome, code) => [outcome, code])) as Readonly<
  Record<EyeOutcome, number>
>;

function outcomeOf(
  data: LinkedData,
  eligible: Eligibility | "exam-only",
  reading: number,
  finding: number,
  refused: RefusedFinding | null,
  pending: boolean,
): EyeOutcome {
  const { readings, findings, confidenceAtLeast } = data;
  if (eligible !== "eligible") return eligible;
  if (reading < 0) return "no-reading";
  const status = readings.status.labels[readings.status.codes[reading]];
  if (status !== "measured") return status;
  const score = readings.confidenceScore?.[reading];
  if (confidenceAtLeast !== undefined && !((score ?? Number.NaN) >= confidenceAtLeast)) {
    return "low-confidence";
  }
  if (!hasEquivalent(readings, reading, data.readingEquivalent)) return "reading-incomplete";
  if (finding < 0) return refused ?? (pending ? "pending" : "lost");
  if (findings.status.labels[findings.status.codes[finding]] !== "measured")
    return "finding-unusable";
  return hasEquivalent(findings, finding, data.referenceEquivalent)
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
