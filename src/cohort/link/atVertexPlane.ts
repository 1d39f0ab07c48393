import { atVertex } from "../../refraction/index.js";
import { InputError } from "../../results/index.js";
import type { Findings, Readings } from "../types.js";

/**
 * Readings or findings as they would be at another vertex plane, in millimetres from the cornea;
 * the axis does not change. A stated equivalent belongs to the plane it was stated for, and is
 * dropped.
 *
 * Powers are in dioptres, distances in millimetres, axes in degrees.
 *
 * @param toMm vertex distance to which, in millimetres; 0 is the cornea
 * @throws InputError where the plane they were measured at is unknown
 * @example
 * const readings = await readReadings([{ subject: "a", eye: "OD", sphere: -8, cylinder: 0, axis: 0 }]);
 * atVertexPlane({ ...readings, vertexMm: 12 }, 0).sphere[0] // => -7.2993
 */
export function atVertexPlane<Data extends Readings | Findings>(data: Data, toMm: number): Data {
  const { vertexMm } = data;
  if (vertexMm === null) {
    throw new InputError("atVertexPlane requires a declared vertex plane, got an unknown one");
  }
  if (vertexMm === toMm) return data;
  const sphere = data.sphere.slice();
  const cylinder = data.cylinder.slice();
  for (let row = 0; row < data.n; row++) {
    if (Number.isNaN(sphere[row] + cylinder[row])) {
      sphere[row] = Number.NaN;
      continue;
    }
    const given = data.axis[row];
    // the axis does not move; a missing one does not keep the powers from moving
    const lens = { sphere: sphere[row], cylinder: cylinder[row], axis: given || 180 };
    const moved = atVertex(lens, { fromMm: vertexMm, toMm });
    sphere[row] = moved.sphere;
    cylinder[row] = moved.cylinder;
  }
  const stated = data.statedEquivalent == null ? {} : { statedEquivalent: null };
  return { ...data, ...stated, sphere, cylinder, vertexMm: toMm };
}
