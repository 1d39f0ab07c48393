import type { Decision } from "../rows/index.js";
import { childFields } from "./layout.js";
import type { Outcome } from "./programme.js";
import { j0Of, j45Of } from "./roundedPrescription.js";
import type { SimulatedTruth, VectorColumns } from "./simulatedTruth.js";

/** Collects what nobody in a real study knows, child by child. */
export function collectTruth(children: number) {
  const latent = { right: emptyVectors(children), left: emptyVectors(children) };
  const finding = { right: emptyVectors(children), left: emptyVectors(children) };
  const strabismus = new Uint8Array(children);
  const mediaOpacity = new Uint8Array(children);
  const conditionByLatent = new Uint8Array(children);
  const conditionByFinding = new Uint8Array(children);
  const decision = new Uint8Array(children);
  const referred = new Uint8Array(children);
  const examined = new Uint8Array(children);
  return {
    add(index: number, records: Float64Array, at: number, outcome: Outcome): void {
      copyVector(latent.right, index, records, at + childFields.latent);
      copyVector(latent.left, index, records, at + childFields.latent + 3);
      convert(finding.right, index, records, at + childFields.finding);
      convert(finding.left, index, records, at + childFields.finding + 3);
      strabismus[index] = records[at + childFields.strabismus];
      mediaOpacity[index] = records[at + childFields.opacity];
      conditionByLatent[index] = outcome.conditionByLatent ? 1 : 0;
      conditionByFinding[index] = outcome.conditionByFinding ? 1 : 0;
      decision[index] = outcome.decision;
      referred[index] = outcome.referred ? 1 : 0;
      examined[index] = outcome.examined ? 1 : 0;
    },
    finish(decisions: readonly Decision[]): SimulatedTruth {
      return {
        kind: "simulated-truth",
        n: children,
        latent,
        finding,
        strabismus,
        mediaOpacity,
        conditionByLatent,
        conditionByFinding,
        decision: { codes: decision, labels: decisions },
        referred,
        examined,
      };
    },
  };
}

function emptyVectors(n: number): VectorColumns {
  return { M: new Float64Array(n), J0: new Float64Array(n), J45: new Float64Array(n) };
}

function copyVector(to: VectorColumns, row: number, records: Float64Array, at: number): void {
  to.M[row] = records[at];
  to.J0[row] = records[at + 1];
  to.J45[row] = records[at + 2];
}

function convert(to: VectorColumns, row: number, records: Float64Array, at: number): void {
  const cylinder = records[at + 1];
  to.M[row] = records[at] + cylinder / 2;
  to.J0[row] = j0Of(cylinder, records[at + 2]);
  to.J45[row] = j45Of(cylinder, records[at + 2]);
}
