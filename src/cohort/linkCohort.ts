import { atVertexPlane } from "./atVertexPlane.js";
import { chooseFindings, refusals } from "./chooseFindings.js";
import { chooseReadings } from "./chooseReadings.js";
import { combineRepeats } from "./combineRepeats.js";
import { type AgeLimits, eligibility } from "./eligibility.js";
import { eyeOutcome } from "./eyeOutcome.js";
import { participantFlow, unknownEye } from "./flow.js";
import { labelList } from "./labelList.js";
import { type ReadingSelection, selectReadings } from "./selectReadings.js";
import type { ChildColumns, Cohort, CycloplegiaState, Findings, Readings } from "./types.js";
import { verificationReasons } from "./types.js";

export interface LinkOptions extends ReadingSelection {
  readonly readings: Readings;
  readonly findings: Findings;
  /**
   * Which of several readings of an eye counts: the first (default) or last by day, repeat and
   * line, the one of highest confidence, or the mean or median of the power vectors of a day.
   */
  readonly repeats?: "first" | "last" | "highest-confidence" | "mean" | "median";
  /** Plane that both sources are brought to; by default readings go to the findings' plane. */
  readonly vertexMm?: number;
  /** Which of several findings of an eye counts ("first"); "nearest" in days to the reading. */
  readonly exam?: "first" | "last" | "nearest";
  /** Days from reading to exam, from and to, both included; needs days in both files. */
  readonly daysBetween?: readonly [number, number];
  /**
   * States of cycloplegia in which a finding counts as reference, such as ["full"]; by default all.
   * Eyes with other findings only are "other-cycloplegia" in the flow and not verified.
   */
  readonly referenceCycloplegia?: readonly CycloplegiaState[];
  /** Readings with a lower confidence score count as "low-confidence". */
  readonly confidenceAtLeast?: number;
  readonly eligibility?: AgeLimits;
  /** Where M of the finding comes from: sphere and cylinder, or as stated by the file. */
  readonly referenceEquivalent?: "computed" | "stated";
  /** Children read fewer days than this before the last day of the files are still pending. */
  readonly followUpDays?: number;
}

/**
 * Links readings to findings by subject and eye. Nobody is dropped: every eye that either file knows
 * has one outcome, and the flow counts those outcomes, so that its boxes add up exactly.
 *
 * @throws InputError when the readings hold several instruments, states of cycloplegia or
 *   corrections and the call does not choose one
 * @example
 * const eye = { subject: "a", eye: "OD", sphere: -1, cylinder: 0, axis: 0 };
 * const readings = await readReadings([eye]);
 * const findings = await readFindings([eye]);
 * linkCohort({ readings, findings }).flow.boxes.at(-1).eyes // => 1
 */
export function linkCohort(options: LinkOptions): Cohort {
  const { repeats = "first" } = options;
  const { readings, findings } = prepared(options);
  const selected = selectReadings(readings, options);
  const { subjects, childOfReading, childOfFinding } = matchSubjects(readings, findings);
  const n = subjects.length;
  const known = knownEyes(n, readings, childOfReading, findings, childOfFinding);
  const reading = chooseReadings(n, readings, childOfReading, selected, repeats);
  const finding = chooseFindings(n, findings, childOfFinding, readings, reading, options);
  const age = childAges(n, readings, childOfReading, findings, childOfFinding);
  const eligible = eligibility(age, options.eligibility);
  const lastDay = latestDay(readings, findings);
  const outcome = { right: new Uint8Array(n), left: new Uint8Array(n) };
  const verification = new Uint8Array(n);
  const reasons = new Uint8Array(n).fill(verificationReasons.indexOf("unknown"));

  for (let child = 0; child < n; child++) {
    const { right, left } = reading;
    const firstRow = right[child] >= 0 ? right[child] : left[child];
    const day = firstRow >= 0 ? (readings.day?.[firstRow] ?? Number.NaN) : Number.NaN;
    const pending = lastDay - day < (options.followUpDays ?? 0);
    for (const side of ["right", "left"] as const) {
      outcome[side][child] = !known[side][child]
        ? unknownEye
        : eyeOutcome({
            eligible: eligible[child],
            readings,
            findings,
            reading: reading[side][child],
            finding: finding.row[side][child],
            refused: refusals[finding.refused[side][child] - 1] ?? null,
            pending,
            confidenceAtLeast: options.confidenceAtLeast,
            referenceEquivalent: options.referenceEquivalent ?? "computed",
          });
    }
    const found =
      finding.row.right[child] >= 0 ? finding.row.right[child] : finding.row.left[child];
    if (firstRow < 0) verification[child] = 3;
    else if (found >= 0) verification[child] = 0;
    else verification[child] = pending ? 1 : 2;
    if (found >= 0) reasons[child] = findings.verificationReason.codes[found];
  }

  const children: ChildColumns = {
    n,
    subject: subjects,
    readingRow: reading,
    findingRow: finding.row,
    verification: { codes: verification, labels: ["examined", "pending", "lost", "not-screened"] },
    verificationReason: { codes: reasons, labels: verificationReasons },
    ageMonths: age.months,
    ageYears: age.years,
    site: childSites(n, readings, childOfReading, findings, childOfFinding),
    outcome,
  };
  return { kind: "cohort", readings, findings, children, flow: participantFlow(outcome) };
}

/** Both sources at one vertex plane, where their planes are known; repeats made into one reading. */
function prepared({ readings, findings, vertexMm, ...options }: LinkOptions) {
  const plane = vertexMm ?? findings.vertexMm;
  const moves = plane !== null && (vertexMm !== undefined || readings.vertexMm !== null);
  const moved = moves ? atVertexPlane(readings, plane) : readings;
  const { repeats, confidenceAtLeast } = options;
  return {
    readings:
      repeats === "mean" || repeats === "median"
        ? combineRepeats(moved, { centre: repeats, confidenceAtLeast }).readings
        : moved,
    findings: vertexMm === undefined ? findings : atVertexPlane(findings, vertexMm),
  };
}

/** Children in the order of the readings' subjects, then the findings' others. */
function matchSubjects(readings: Readings, findings: Findings) {
  const subjects = [...readings.subject.labels];
  const childOfFinding = new Int32Array(findings.subject.labels.length).fill(-1);
  const codeOf = new Map(findings.subject.labels.map((label, code) => [label, code]));
  subjects.forEach((label, child) => {
    const code = codeOf.get(label);
    if (code !== undefined) childOfFinding[code] = child;
  });
  findings.subject.labels.forEach((label, code) => {
    if (childOfFinding[code] < 0) childOfFinding[code] = subjects.push(label) - 1;
  });
  const childOfReading = Int32Array.from(
    { length: readings.subject.labels.length },
    (_, code) => code,
  );
  return { subjects, childOfReading, childOfFinding };
}

function knownEyes(
  n: number,
  readings: Readings,
  childOfReading: Int32Array,
  findings: Findings,
  childOfFinding: Int32Array,
) {
  const known = { right: new Uint8Array(n), left: new Uint8Array(n) };
  for (const [data, childOf] of [
    [readings, childOfReading],
    [findings, childOfFinding],
  ] as const) {
    for (let row = 0; row < data.n; row++) {
      const side = data.eye.codes[row] === 0 ? known.right : known.left;
      side[childOf[data.subject.codes[row]]] = 1;
    }
  }
  return known;
}

/** The age at the first reading that has one, else at the first finding. */
function childAges(
  n: number,
  readings: Readings,
  childOfReading: Int32Array,
  findings: Findings,
  childOfFinding: Int32Array,
) {
  const months = new Float64Array(n).fill(Number.NaN);
  const years = new Float64Array(n).fill(Number.NaN);
  for (const [data, childOf] of [
    [readings, childOfReading],
    [findings, childOfFinding],
  ] as const) {
    for (const [from, to] of [
      [data.ageMonths, months],
      [data.ageYears, years],
    ] as const) {
      if (from === null) continue;
      for (let row = 0; row < data.n; row++) {
        const child = childOf[data.subject.codes[row]];
        if (Number.isNaN(to[child])) to[child] = from[row];
      }
    }
  }
  return { months, years };
}

function childSites(
  n: number,
  readings: Readings,
  childOfReading: Int32Array,
  findings: Findings,
  childOfFinding: Int32Array,
): ChildColumns["site"] {
  if (readings.site === null && findings.site === null) return null;
  const sites = labelList();
  const codes = new Int32Array(n).fill(-1);
  for (const [data, childOf] of [
    [readings, childOfReading],
    [findings, childOfFinding],
  ] as const) {
    if (data.site === null) continue;
    const codeOf = data.site.labels.map((label) => sites.codeOf(label));
    for (let row = 0; row < data.n; row++) {
      const child = childOf[data.subject.codes[row]];
      if (codes[child] < 0) codes[child] = codeOf[data.site.codes[row]];
    }
  }
  const none = codes.includes(-1) ? sites.codeOf("") : -1;
  return { codes: codes.map((code) => (code < 0 ? none : code)), labels: sites.labels };
}

function latestDay(...sources: readonly (Readings | Findings)[]): number {
  let latest = Number.NEGATIVE_INFINITY;
  for (const { day } of sources) {
    for (const value of day ?? []) if (value > latest) latest = value;
  }
  return latest;
}
