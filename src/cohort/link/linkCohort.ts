import { InputError, jointAudience } from "../../results/index.js";
import type {
  ChildColumns,
  Cohort,
  CohortChoices,
  EquivalentSource,
  Findings,
  Readings,
} from "../types.js";
import { verificationReasons } from "../types.js";
import { atVertexPlane } from "./atVertexPlane.js";
import { childAges, childSites } from "./childFacts.js";
import { childProgramme, reasonsByDecision } from "./childProgramme.js";
import { chooseFindings } from "./chooseFindings.js";
import { chooseReadings } from "./chooseReadings.js";
import { combineRepeats } from "./combineRepeats.js";
import { eligibility } from "./eligibility.js";
import { eyeOutcome } from "./eyeOutcome.js";
import { usualEquivalent } from "./eyeQuantity.js";
import { participantFlow, unknownEye } from "./flow.js";
import type { LinkOptions } from "./linkOptions.js";
import { knownEyes, matchSubjects } from "./matchSubjects.js";
import { childOwn } from "./ownValues.js";
import { refusals } from "./refusedFinding.js";
import { selectReadings } from "./selectReadings.js";

/**
 * Links readings to findings by subject and eye. Nobody is dropped: every eye that either file knows
 * has one outcome, and the flow counts those outcomes, so that its boxes add up exactly.
 *
 * @throws InputError when the readings hold several instruments, states of cycloplegia or
 *   corrections and the call does not choose one, and for choices by days in files without days
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
  const { subjects, withReadings, childOfReading, childOfFinding } = matchSubjects(
    readings,
    findings,
  );
  const n = subjects.length;
  const known = knownEyes(n, readings, childOfReading, findings, childOfFinding);
  const reading = chooseReadings(n, readings, childOfReading, selected, repeats);
  const finding = chooseFindings(n, findings, childOfFinding, readings, reading, options);
  // of all readings: a repeat may know what the first one of its day does not
  const age = childAges(n, options.readings, childOfReading, findings, childOfFinding);
  const own = childOwn(n, options.readings, childOfReading, findings, childOfFinding);
  const eligible = eligibility(age, options.eligibility, own);
  const { followUpDays = 0 } = options;
  if (followUpDays > 0 && readings.day === null) {
    throw new InputError("linkCohort requires days of the readings for followUpDays, got none");
  }
  const lastDay = latestDay(readings, findings);
  const choices: CohortChoices = {
    readingEquivalent: options.readingEquivalent ?? usualEquivalent(readings),
    referenceEquivalent: options.referenceEquivalent ?? usualEquivalent(findings),
  };
  requireStated(readings, choices.readingEquivalent);
  requireStated(findings, choices.referenceEquivalent);
  const outcome = { right: new Uint8Array(n), left: new Uint8Array(n) };
  const verification = new Uint8Array(n);
  const noReason = verificationReasons.indexOf("unknown");
  const reasons = new Uint8Array(n).fill(noReason);

  const data = { readings, findings, confidenceAtLeast: options.confidenceAtLeast, ...choices };
  for (let child = 0; child < n; child++) {
    const { right, left } = reading;
    const screened = right[child] >= 0 || left[child] >= 0;
    // read on two days, a child is waited for from the later one on
    const day = Math.max(dayOf(readings, right[child]), dayOf(readings, left[child]));
    const pending = lastDay - day < followUpDays;
    for (const side of ["right", "left"] as const) {
      outcome[side][child] = !known[side][child]
        ? unknownEye
        : eyeOutcome(
            data,
            child < withReadings ? eligible[child] : "exam-only",
            reading[side][child],
            finding.row[side][child],
            refusals[finding.refused[side][child] - 1] ?? null,
            pending,
          );
    }
    const [foundRight, foundLeft] = [finding.row.right[child], finding.row.left[child]];
    if (!screened) verification[child] = 3;
    else if (foundRight >= 0 || foundLeft >= 0) verification[child] = 0;
    else verification[child] = pending ? 1 : 2;
    // the reason that one eye's finding gives holds for a child whose other finding gives none
    const { codes } = findings.verificationReason;
    if (foundRight >= 0) reasons[child] = codes[foundRight];
    if (foundLeft >= 0 && reasons[child] === noReason) reasons[child] = codes[foundLeft];
  }
  // of all readings: an attempt that does not count may carry the decision
  const programme = childProgramme(n, options.readings, childOfReading, findings, finding.row);
  reasonsByDecision(reasons, verification, programme);

  const children: ChildColumns = {
    n,
    subject: subjects,
    readingRow: reading,
    findingRow: finding.row,
    verification: { codes: verification, labels: ["examined", "pending", "lost", "not-screened"] },
    verificationReason: { codes: reasons, labels: verificationReasons },
    ...programme,
    ageMonths: age.months,
    ageYears: age.years,
    site: childSites(n, options.readings, childOfReading, findings, childOfFinding),
    ...(own.length === 0 ? {} : { own }),
    outcome,
  };
  const flow = participantFlow(outcome, options.eligibility?.own !== undefined);
  const seen = jointAudience(readings, findings);
  return {
    kind: "cohort",
    ...seen,
    choices,
    readings,
    findings,
    children,
    flow: { ...flow, ...seen },
  };
}

function requireStated(data: Readings | Findings, source: EquivalentSource): void {
  if (source === "computed" || data.statedEquivalent != null) return;
  throw new InputError(
    `linkCohort requires ${data.kind} with a stated equivalent where M is as stated, got ${data.kind} without one, ` +
      "or moved to another vertex plane, where none is stated; map statedEquivalent, or leave the choice out",
  );
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

/** Day of a reading; minus infinity, so that any other is later, where there is none. */
function dayOf({ day }: Readings, row: number): number {
  const known = row < 0 ? Number.NaN : (day?.[row] ?? Number.NaN);
  return Number.isNaN(known) ? Number.NEGATIVE_INFINITY : known;
}

function latestDay(...sources: readonly (Readings | Findings)[]): number {
  let latest = Number.NEGATIVE_INFINITY;
  for (const { day } of sources) {
    for (const value of day ?? []) if (value > latest) latest = value;
  }
  return latest;
}
