import type { Role } from "./roles.js";

/** Where numbers of a role lie; beyond it a number that is somebody's id is taken for that. */
export const ranges = {
  sphere: [-40, 40],
  cylinder: [-20, 20],
  axis: [0, 180],
  equivalent: [-50, 50],
  confidence: [-1000, 1000],
  pupil: [0, 20],
  "gaze-horizontal": [-90, 90],
  "gaze-vertical": [-90, 90],
  interpupillary: [0, 100],
  age: [0, 1440],
  day: [-20_000, 20_000],
  repeat: [0, 1000],
  acuity: [-2, 2000],
} as const satisfies Partial<Record<Role, readonly [number, number]>>;

export function rangeOf(is: Role): readonly [number, number] | undefined {
  return (ranges as Partial<Record<Role, readonly [number, number]>>)[is];
}
