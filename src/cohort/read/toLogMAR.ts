/** The test distance that a Snellen denominator goes with: 20 feet, 6 metres. */
const distance = { "snellen-feet": 20, "snellen-metres": 6 } as const;

/** Visual acuity in logMAR: the logarithm of the minimum angle of resolution in minutes of arc. */
export function toLogMAR(
  values: Float64Array,
  notation: "logMAR" | "snellen-feet" | "snellen-metres" | "decimal",
): Float64Array {
  if (notation === "logMAR") return values;
  return values.map((value) =>
    notation === "decimal" ? -Math.log10(value) : Math.log10(value / distance[notation]),
  );
}
