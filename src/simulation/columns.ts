import {
  corrections,
  cycloplegiaStates,
  eyes,
  type Findings,
  measurementStatuses,
  programmeDecisions,
  type Readings,
  verificationReasons,
  yesNoWords,
} from "../cohort/index.js";
import { type BlockPlan, slotsOf } from "./drawBlock.js";
import { childFields, emptySlot, readingFields } from "./layout.js";
import type { Outcome } from "./programme.js";

const daysOfMonth = 30.4375;
const methods = ["retinoscopy", "autorefraction", "subjective", "unknown"] as const;

/** Collects records into columns of the readers' shape; `add` is called child by child. */
export function collectReadings(plan: BlockPlan, children: number) {
  const slots = slotsOf(plan);
  const { repeats } = plan.parameters.programme;
  const most = children * plan.instruments.length * slots * 2;
  const columns = {
    subject: new Int32Array(most),
    eye: new Uint8Array(most),
    status: new Uint8Array(most),
    instrument: new Uint8Array(most),
    attempt: new Uint8Array(most),
    site: new Uint8Array(most),
    recorded: new Uint8Array(most),
    invited: new Uint8Array(most),
    came: new Uint8Array(most),
    sphere: new Float64Array(most),
    cylinder: new Float64Array(most),
    axis: new Float64Array(most),
    day: new Float64Array(most),
    ageMonths: new Float64Array(most),
    repeat: new Float64Array(most),
    confidenceScore: new Float64Array(most),
    pupilMm: new Float64Array(most),
  };
  let n = 0;
  return {
    add(index: number, records: Float64Array, at: number, outcome: Outcome): void {
      const invited = outcome.referred || (outcome.examined && outcome.reason === 1);
      let slotAt = at + childFields.readings;
      for (let instrument = 0; instrument < plan.instruments.length; instrument++) {
        for (let slot = 0; slot < slots; slot++) {
          for (let side = 0; side < 2; side++) {
            if (records[slotAt] !== emptySlot) {
              columns.subject[n] = index;
              columns.eye[n] = side;
              columns.status[n] = records[slotAt];
              columns.instrument[n] = instrument;
              columns.attempt[n] = slot < repeats ? 0 : 1;
              columns.site[n] = records[at + childFields.site];
              columns.sphere[n] = records[slotAt + 1];
              columns.cylinder[n] = records[slotAt + 2];
              columns.axis[n] = records[slotAt + 3];
              columns.recorded[n] = outcome.recorded;
              columns.invited[n] = invited ? 1 : 0;
              columns.came[n] = outcome.examined ? 1 : 0;
              columns.day[n] = records[at + childFields.day];
              columns.ageMonths[n] = records[at + childFields.ageMonths];
              columns.repeat[n] = slot < repeats ? slot + 1 : slot - repeats + 2;
              columns.confidenceScore[n] = records[slotAt + 4];
              columns.pupilMm[n] = records[slotAt + 5];
              n++;
            }
            slotAt += readingFields;
          }
        }
      }
    },
    finish(subjects: readonly string[], sites: readonly string[]): Readings {
      return {
        kind: "readings",
        // nobody in it exists
        audience: "journal",
        n,
        line: lines(n),
        subject: { codes: cut(columns.subject, n), labels: subjects },
        eye: { codes: cut(columns.eye, n), labels: eyes },
        status: { codes: cut(columns.status, n), labels: measurementStatuses },
        sphere: cut(columns.sphere, n),
        cylinder: cut(columns.cylinder, n),
        axis: cut(columns.axis, n),
        day: cut(columns.day, n),
        ageMonths: cut(columns.ageMonths, n),
        ageYears: null,
        site: { codes: cut(columns.site, n), labels: sites },
        problems: [],
        instrument: { codes: cut(columns.instrument, n), labels: plan.instruments },
        repeat: cut(columns.repeat, n),
        attempt: { codes: cut(columns.attempt, n), labels: ["first", "final"] },
        correction: { codes: new Uint8Array(n), labels: corrections },
        cycloplegia: { codes: new Uint8Array(n), labels: cycloplegiaStates },
        confidenceScore: cut(columns.confidenceScore, n),
        pupilMm: cut(columns.pupilMm, n),
        gazeHorizontal: null,
        gazeVertical: null,
        interpupillaryMm: null,
        programmeDecision: { codes: cut(columns.recorded, n), labels: programmeDecisions },
        invited: { codes: cut(columns.invited, n), labels: yesNoWords },
        came: { codes: cut(columns.came, n), labels: yesNoWords },
        workingDistanceMm: null,
        vertexMm: 12,
      };
    },
  };
}

/** Collects the findings of those who were examined. */
export function collectFindings(children: number) {
  const most = children * 2;
  const columns = {
    subject: new Int32Array(most),
    eye: new Uint8Array(most),
    site: new Uint8Array(most),
    cycloplegia: new Uint8Array(most),
    strabismus: new Uint8Array(most),
    opacity: new Uint8Array(most),
    reason: new Uint8Array(most),
    selfPresented: new Uint8Array(most),
    sphere: new Float64Array(most),
    cylinder: new Float64Array(most),
    axis: new Float64Array(most),
    day: new Float64Array(most),
    ageMonths: new Float64Array(most),
  };
  let n = 0;
  return {
    add(index: number, records: Float64Array, at: number, outcome: Outcome): void {
      const delay = records[at + childFields.delay];
      for (let side = 0; side < 2; side++) {
        const eye = at + childFields.finding + 3 * side;
        columns.subject[n] = index;
        columns.eye[n] = side;
        columns.site[n] = records[at + childFields.site];
        columns.cycloplegia[n] = records[at + childFields.cycloplegia];
        columns.strabismus[n] = records[at + childFields.strabismus];
        columns.opacity[n] = records[at + childFields.opacity];
        columns.reason[n] = outcome.reason;
        columns.selfPresented[n] = outcome.referred ? 2 : outcome.selfPresented ? 1 : 0;
        columns.sphere[n] = records[eye];
        columns.cylinder[n] = records[eye + 1];
        columns.axis[n] = records[eye + 2];
        columns.day[n] = records[at + childFields.day] + delay;
        columns.ageMonths[n] =
          records[at + childFields.ageMonths] + Math.floor(delay / daysOfMonth);
        n++;
      }
    },
    finish(subjects: readonly string[], sites: readonly string[]): Findings {
      return {
        kind: "findings",
        audience: "journal",
        n,
        line: lines(n),
        subject: { codes: cut(columns.subject, n), labels: subjects },
        eye: { codes: cut(columns.eye, n), labels: eyes },
        status: { codes: new Uint8Array(n), labels: measurementStatuses },
        sphere: cut(columns.sphere, n),
        cylinder: cut(columns.cylinder, n),
        axis: cut(columns.axis, n),
        day: cut(columns.day, n),
        ageMonths: cut(columns.ageMonths, n),
        ageYears: null,
        site: { codes: cut(columns.site, n), labels: sites },
        problems: [],
        method: { codes: new Uint8Array(n), labels: methods },
        cycloplegia: { codes: cut(columns.cycloplegia, n), labels: cycloplegiaStates },
        statedEquivalent: null,
        vertexMm: 12,
        acuityLogMAR: null,
        strabismus: { codes: cut(columns.strabismus, n), labels: yesNoWords },
        mediaOpacity: { codes: cut(columns.opacity, n), labels: yesNoWords },
        verificationReason: { codes: cut(columns.reason, n), labels: verificationReasons },
        selfPresented: { codes: cut(columns.selfPresented, n), labels: yesNoWords },
      };
    },
  };
}

type Column = Uint8Array | Int32Array | Float64Array;

function cut<Kind extends Column>(column: Kind, n: number): Kind {
  return (n === column.length ? column : column.slice(0, n)) as Kind;
}

/** Lines of a file that these rows could have come from, the header being line 1. */
function lines(n: number): Int32Array {
  const line = new Int32Array(n);
  for (let row = 0; row < n; row++) line[row] = row + 2;
  return line;
}
