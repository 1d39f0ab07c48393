import { snellenDistance } from "./numberRules.js";

/** Visual acuity in logMAR: the logarithm of the minimum angle of resolution in minutes of arc. */
export function toLogMAR(
  values: Float64Array,
  notation: "logMAR" | "snellen-feet" | "snellen-metres" | "decimal",
): Float64Array {
  if (notation === "logMAR") return values;
  return values.map((value) =>
    notation === "decimal" ? -Math.log10(value) : Math.log10(value / snellenDistance[notation]),
  );
}
