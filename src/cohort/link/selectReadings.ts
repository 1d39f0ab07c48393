import { InputError } from "../../results/index.js";
import type { Correction, CycloplegiaState, Readings } from "../types.js";
import { codeWanted } from "./codeWanted.js";

export interface ReadingSelection {
  /** The label of the instrument; required where the readings hold several. */
  readonly instrument?: string;
  /** Readings under this state only; required where the readings hold several. */
  readonly cycloplegia?: CycloplegiaState;
  /** Readings with this correction only; required where the readings hold several. */
  readonly correction?: Correction;
}

/** A yes for every reading of the selection. Unlike readings are never pooled by silence. */
export function selectReadings(readings: Readings, selection: ReadingSelection): Uint8Array {
  const chosen = new Uint8Array(readings.n).fill(1);
  for (const key of ["instrument", "cycloplegia", "correction"] as const) {
    const { codes, labels } = readings[key];
    const wanted = selection[key];
    if (wanted === undefined) {
      const present = labels.filter((_, code) =>
        (codes as Int32Array).some((value, row) => chosen[row] === 1 && value === code),
      );
      if (present.length > 1) {
        throw new InputError(
          `linkCohort requires ${key} where the readings differ in it, got ${present.join(", ")}; name one of them ` +
            `(in a protocol "indexTest": { "${key}": "${present[0]}" }): readings with another are left out, and counted`,
        );
      }
      continue;
    }
    const code = codeWanted("linkCohort", key, key, readings[key], wanted, chosen);
    for (let row = 0; row < readings.n; row++) if (codes[row] !== code) chosen[row] = 0;
  }
  return chosen;
}
