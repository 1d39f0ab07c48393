const degree = Math.PI / 180;
const cosines = Float64Array.from({ length: 181 }, (_, axis) => Math.cos(2 * axis * degree));
const sines = Float64Array.from({ length: 181 }, (_, axis) => Math.sin(2 * axis * degree));

/**
 * Writes sphere, cylinder (minus form) and axis of a power vector at `at`, as a device or a chart
 * would: sphere and cylinder in steps, the axis in whole degrees (NaN beside a zero cylinder).
 * Thibos, Wheeler and Horner 1997, rounded afterwards.
 */
export function writePrescription(
  out: Float64Array,
  at: number,
  M: number,
  J0: number,
  J45: number,
  step: number,
): void {
  const half = Math.sqrt(J0 * J0 + J45 * J45);
  const cylinder = -Math.round((2 * half) / step) * step;
  out[at] = Math.round((M + half) / step) * step;
  out[at + 1] = cylinder === 0 ? 0 : cylinder;
  out[at + 2] = cylinder === 0 ? Number.NaN : wholeAxis(J0, J45);
}

/** J0 and J45 of a written prescription. */
export function j0Of(cylinder: number, axis: number): number {
  return cylinder === 0 ? 0 : (-cylinder / 2) * cosines[axis];
}

export function j45Of(cylinder: number, axis: number): number {
  return cylinder === 0 ? 0 : (-cylinder / 2) * sines[axis];
}

/** Axis in (0, 180]. */
function wholeAxis(J0: number, J45: number): number {
  const axis = Math.round(Math.atan2(J45, J0) / (2 * degree));
  return axis <= 0 ? axis + 180 : axis;
}
