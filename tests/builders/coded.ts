import type { Coded } from "../../src/cohort/types.js";

/** A column of labels by their numbers. */
export const coded = <Label extends string>(
  labels: readonly Label[],
  ...codes: number[]
): Coded<Label> => ({ labels, codes: Uint8Array.from(codes) });
