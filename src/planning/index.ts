// How many children a study needs.

export type {
  AccuracyNeed,
  AccuracyPlan,
  AccuracyPlanRow,
  PlannedMeasure,
} from "./accuracyPlan.js";
export type { PlannedLimits } from "./agreementPower.js";
export type { PlannedInterval } from "./expectedInterval.js";
export { planAccuracyStudy } from "./planAccuracyStudy.js";
export {
  type AgreementPlan,
  type AgreementPlanRow,
  planAgreementStudy,
} from "./planAgreementStudy.js";
export { type AreaPlan, type AreaPlanRow, planAreaStudy } from "./planAreaStudy.js";
export { planStudy, type StudyPlan } from "./planStudy.js";
export { planTable } from "./planTable.js";
export type { AccuracyStudy, AgreementStudy, AreaStudy, RatesAimed } from "./studies.js";
