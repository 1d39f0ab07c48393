import { InputError } from "../results/index.js";
import type { AccuracyPlan } from "./accuracyPlan.js";
import { planAccuracyStudy } from "./planAccuracyStudy.js";
import { type AgreementPlan, planAgreementStudy } from "./planAgreementStudy.js";
import { type AreaPlan, planAreaStudy } from "./planAreaStudy.js";
import type { AccuracyStudy, AgreementStudy, AreaStudy } from "./studies.js";

/** The plan of any of the three kinds of study. */
export type StudyPlan = AccuracyPlan | AgreementPlan | AreaPlan;

/**
 * The plan that a file holds: its `kind` is "accuracy", "agreement" or "area", and the rest is what
 * `planAccuracyStudy`, `planAgreementStudy` or `planAreaStudy` takes.
 *
 * Units and undefined cases as there.
 *
 * @param json as read from a JSON file; unknown members are errors
 * @throws when the kind is unknown, or as the three functions
 *
 * @example
 * planStudy({ kind: "agreement", expected: { sd: 0.5 }, aim: { halfWidth: 0.1 } }).n // => 285
 */
export function planStudy(json: unknown): StudyPlan {
  const kind =
    typeof json === "object" && json !== null ? (json as { kind?: unknown }).kind : undefined;
  if (kind === "accuracy") return planAccuracyStudy(json as AccuracyStudy);
  if (kind === "agreement") return planAgreementStudy(json as AgreementStudy);
  if (kind === "area") return planAreaStudy(json as AreaStudy);
  throw new InputError(
    `planStudy requires a kind, "accuracy", "agreement" or "area", got ${JSON.stringify(kind) ?? "none"}`,
  );
}
