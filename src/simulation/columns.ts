import {
  corrections,
  cycloplegiaStates,
  eyes,
  type Findings,
  measurementStatuses,
  type Readings,
  verificationReasons,
} from "../cohort/types.js";
import { type BlockPlan, slotsOf } from "./drawBlock.js";
import { childFields, emptySlot, readingFields } from "./layout.js";
import type { Outcome } from "./programme.js";

const yesNo = ["no", "yes", "unknown"] as const;
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
    add(index: number, records: Float64Array, at: number): void {
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
      const cut = <Column extends Uint8Array | Int32Array | Float64Array>(column: Column): Column =>
        (n === most ? column : column.slice(0, n)) as Column;
      return {
        kind: "readings",
        n,
        line: Int32Array.from({ length: n }, (_, row) => row + 2),
        subject: { codes: cut(columns.subject), labels: subjects },
        eye: { codes: cut(columns.eye), labels: eyes },
        status: { codes: cut(columns.status), labels: measurementStatuses },
        sphere: cut(columns.sphere),
        cylinder: cut(columns.cylinder),
        axis: cut(columns.axis),
        day: cut(columns.day),
        ageMonths: cut(columns.ageMonths),
        ageYears: null,
        site: { codes: cut(columns.site), labels: sites },
        problems: [],
        instrument: { codes: cut(columns.instrument), labels: plan.instruments },
        repeat: cut(columns.repeat),
        attempt: { codes: cut(columns.attempt), labels: ["first", "final"] },
        correction: { codes: new Uint8Array(n), labels: corrections },
        cycloplegia: { codes: new Uint8Array(n), labels: cycloplegiaStates },
        confidenceScore: cut(columns.confidenceScore),
        pupilMm: cut(columns.pupilMm),
        gazeHorizontal: null,
        gazeVertical: null,
        interpupillaryMm: null,
        workingDistanceMm: null,
        vertexMm: 12,
      };
    },
  };
}

/** Collects the findings of those who were examined. */
export function collectFindings() {
  const rows: number[][] = [];
  return {
    add(index: number, records: Float64Array, at: number, outcome: Outcome): void {
      for (let side = 0; side < 2; side++) {
        const eye = at + childFields.finding + 3 * side;
        const day = records[at + childFields.day];
        const delay = records[at + childFields.delay];
        const dayOfMonth = 30.4375;
        rows.push([
          index,
          side,
          records[eye],
          records[eye + 1],
          records[eye + 2],
          day + delay,
          records[at + childFields.ageMonths] + Math.floor(delay / dayOfMonth),
          records[at + childFields.site],
          records[at + childFields.cycloplegia],
          records[at + childFields.strabismus],
          records[at + childFields.opacity],
          outcome.reason,
        ]);
      }
    },
    finish(subjects: readonly string[], sites: readonly string[]): Findings {
      const n = rows.length;
      const codes = (field: number) => Uint8Array.from(rows, (row) => row[field]);
      const numbers = (field: number) => Float64Array.from(rows, (row) => row[field]);
      return {
        kind: "findings",
        n,
        line: Int32Array.from({ length: n }, (_, row) => row + 2),
        subject: { codes: Int32Array.from(rows, (row) => row[0]), labels: subjects },
        eye: { codes: codes(1), labels: eyes },
        status: { codes: new Uint8Array(n), labels: measurementStatuses },
        sphere: numbers(2),
        cylinder: numbers(3),
        axis: numbers(4),
        day: numbers(5),
        ageMonths: numbers(6),
        ageYears: null,
        site: { codes: codes(7), labels: sites },
        problems: [],
        method: { codes: new Uint8Array(n), labels: methods },
        cycloplegia: { codes: codes(8), labels: cycloplegiaStates },
        statedEquivalent: null,
        vertexMm: 12,
        acuityLogMAR: null,
        strabismus: { codes: codes(9), labels: yesNo },
        mediaOpacity: { codes: codes(10), labels: yesNo },
        verificationReason: { codes: codes(11), labels: verificationReasons },
      };
    },
  };
}
