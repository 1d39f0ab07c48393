import { measurementStatuses } from "../cohort/index.js";
import { type BlockPlan, slotsOf } from "./drawBlock.js";
import { childFields, emptySlot, readingFields, statusCodes } from "./layout.js";
import { defaultCondition, defaultReferral } from "./plainLimits.js";
import { j0Of, j45Of } from "./roundedPrescription.js";
import type { SimulatedChild, SimulatedEye, SimulatedRules } from "./simulatedChild.js";

/** Codes of what the studied rule says, in this order. */
export const simulatedDecisions = ["refer", "pass", "undecidable"] as const;

/** What becomes of one child; reused from child to child. */
export interface Outcome {
  /** Index into `simulatedDecisions`. */
  decision: number;
  referred: boolean;
  /** Index into `programmeDecisions`: what the programme recorded. */
  recorded: number;
  /** Came, or would have come, without being drawn. */
  selfPresented: boolean;
  conditionByFinding: boolean;
  conditionByLatent: boolean;
  examined: boolean;
  /** Index into `verificationReasons`; 0 referred, 1 sampled, 2 self-presented. */
  reason: number;
}

type Writable<Shape> = { -readonly [Key in keyof Shape]: Shape[Key] };
type WritableEye = Writable<SimulatedEye>;
interface View extends Writable<Omit<SimulatedChild, "right" | "left">> {
  right: WritableEye;
  left: WritableEye;
}

/**
 * Follows one record after another through the programme: rule, exam of the referred, exam of
 * passes. The outcome and the views it hands to the rules are used again for the next child.
 */
export function followProgramme(plan: BlockPlan, rules: SimulatedRules) {
  const { programme, population } = plan.parameters;
  const refer = rules.refer ?? defaultReferral;
  const condition = rules.condition ?? defaultCondition;
  const slots = slotsOf(plan);
  const view = emptyView();
  const outcome: Outcome = {
    decision: 0,
    referred: false,
    recorded: 0,
    selfPresented: false,
    conditionByFinding: false,
    conditionByLatent: false,
    examined: false,
    reason: 0,
  };
  return (records: Float64Array, at: number): Outcome => {
    view.ageMonths = records[at + childFields.ageMonths];
    view.site = records[at + childFields.site];
    view.strabismus = records[at + childFields.strabismus] === 1;
    view.mediaOpacity = records[at + childFields.opacity] === 1;

    const latent = at + childFields.latent;
    seeVector(view.right, records, latent);
    seeVector(view.left, records, latent + 3);
    outcome.conditionByLatent = condition(view);

    const finding = at + childFields.finding;
    seePrescription(view.right, records, finding, statusCodes.measured);
    seePrescription(view.left, records, finding + 3, statusCodes.measured);
    outcome.conditionByFinding = condition(view);

    const reading = at + decidingSlot(records, at, slots, programme.repeats);
    seePrescription(view.right, records, reading + 1, records[reading]);
    const other = reading + readingFields;
    seePrescription(view.left, records, other + 1, records[other]);
    const decision = refer(view);
    outcome.decision = decision === "refer" ? 0 : decision === "pass" ? 1 : 2;
    const departs = records[at + childFields.departureDraw] < programme.departures;
    outcome.recorded = departs && outcome.decision < 2 ? 1 - outcome.decision : outcome.decision;
    outcome.referred =
      outcome.recorded === 0 || (outcome.recorded === 2 && programme.refersUndecidable > 0);

    const disease = outcome.conditionByLatent;
    const odds =
      (programme.passesSelfPresented / (1 - programme.passesSelfPresented)) *
      (disease ? programme.selfPresentedOdds : 1);
    outcome.selfPresented = records[at + childFields.selfDraw] < odds / (1 + odds);
    if (outcome.referred) {
      const place = view.site - (population.sites - 1) / 2;
      const logit =
        programme.followUp +
        (outcome.recorded === 0 ? programme.followUpResult : 0) +
        programme.followUpSite * place +
        programme.followUpAge * (view.ageMonths / 12 - 5) +
        (disease ? programme.followUpDisease : 0);
      outcome.examined = records[at + childFields.followDraw] < 1 / (1 + Math.exp(-logit));
      outcome.reason = 0;
    } else if (records[at + childFields.sampleDraw] < programme.passesSampled) {
      outcome.examined = true;
      outcome.reason = 1;
    } else {
      outcome.examined = outcome.selfPresented;
      outcome.reason = 2;
    }
    return outcome;
  };
}

/** The reading that decides: the last further attempt if there was one, else the first repeat. */
export function decidingSlot(
  records: Float64Array,
  at: number,
  slots: number,
  repeats: number,
): number {
  let slot = slots - 1;
  while (
    slot >= repeats &&
    records[at + childFields.readings + slot * 2 * readingFields] === emptySlot
  ) {
    slot--;
  }
  return childFields.readings + (slot < repeats ? 0 : slot) * 2 * readingFields;
}

function seeVector(eye: WritableEye, records: Float64Array, at: number): void {
  const M = records[at];
  const J0 = records[at + 1];
  const J45 = records[at + 2];
  const half = Math.sqrt(J0 * J0 + J45 * J45);
  eye.status = "measured";
  eye.M = M;
  eye.J0 = J0;
  eye.J45 = J45;
  eye.sphere = M + half;
  eye.cylinder = -2 * half;
}

function seePrescription(
  eye: WritableEye,
  records: Float64Array,
  at: number,
  status: number,
): void {
  eye.status = measurementStatuses[status];
  const sphere = records[at];
  const cylinder = records[at + 1];
  const axis = records[at + 2];
  eye.sphere = sphere;
  eye.cylinder = cylinder;
  eye.M = sphere + cylinder / 2;
  eye.J0 = j0Of(cylinder, axis);
  eye.J45 = j45Of(cylinder, axis);
}

function emptyView(): View {
  const eye = (): WritableEye => ({
    status: "measured",
    M: 0.5,
    J0: 0.5,
    J45: 0.5,
    sphere: 0.5,
    cylinder: -0.5,
  });
  return {
    ageMonths: 0,
    site: 0,
    right: eye(),
    left: eye(),
    strabismus: false,
    mediaOpacity: false,
  };
}
