import { type PowerVectorColumns, toPowerVectors } from "../../refraction/index.js";
import { toThousandths } from "../../rows/index.js";
import { missing } from "./missing.js";
import type { RuleColumns, RuleEyeColumns } from "./ruleColumns.js";

/** A difference of the eyes that needs power vectors, in thousandths. */
export function fillVector(
  quantity: "J0" | "J45" | "greatestMeridian" | "vector",
  mirror: boolean,
  columns: RuleColumns,
  start: number,
  into: Int32Array,
): void {
  const end = start + into.length;
  const vectors = ({ sphere, cylinder, axis }: RuleEyeColumns): PowerVectorColumns =>
    toPowerVectors({
      sphere: sphere.subarray(start, end),
      cylinder: cylinder.subarray(start, end),
      axis: axis.subarray(start, end),
    });
  const right = vectors(columns.right);
  const left = vectors(columns.left);
  const sign = mirror ? -1 : 1;
  for (let at = 0; at < into.length; at++) {
    const M = right.M[at] - left.M[at];
    const J0 = right.J0[at] - left.J0[at];
    const J45 = right.J45[at] - sign * left.J45[at];
    const value = size(M, J0, J45);
    into[at] = Number.isNaN(value) ? missing : toThousandths(value);
  }

  function size(M: number, J0: number, J45: number): number {
    if (quantity === "J0") return Math.abs(J0);
    if (quantity === "J45") return Math.abs(J45);
    return quantity === "vector" ? Math.hypot(M, J0, J45) : Math.abs(M) + Math.hypot(J0, J45);
  }
}
