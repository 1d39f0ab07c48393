import type { FindingBlock, ReadingBlock } from "../columnMapping.js";
import type { ProblemLog } from "../problemLog.js";
import type { MeasurementColumns } from "../types.js";
import { growableCodes, growableNumbers } from "./growable.js";
import type { MeasurementPart } from "./measurementParts.js";

type Part = MeasurementPart<FindingBlock & (ReadingBlock | FindingBlock)>;

/**
 * Collects, part by part, what the working distance adds to retinoscopy spheres, 1000 / mm dioptres;
 * `apply` takes it off. Each sphere it changes is listed with its text as written; other methods in
 * the same block stay as they are.
 *
 * @param retinoscopy the code of retinoscopy among the methods
 */
export function workingDistance(retinoscopy: number) {
  const dioptres = growableNumbers();
  const partOf = growableCodes();
  const parts: Part[] = [];
  let any = false;

  return {
    /** @param methods code of each row's method, or the one code of all rows */
    add(part: Part, methods: Uint8Array | number, count: number): void {
      const { removeWorkingDistanceMm: mm } = part.block;
      if (!parts.includes(part)) parts.push(part);
      any ||= mm !== undefined;
      partOf.fill(parts.indexOf(part), count);
      const excess = mm === undefined ? 0 : 1000 / mm;
      const excessOf = (method: number) => (method === retinoscopy ? excess : 0);
      if (typeof methods === "number") dioptres.fill(excessOf(methods), count);
      else dioptres.append(Float64Array.from(methods, excessOf));
    },

    apply<Shared extends MeasurementColumns>(shared: Shared, log: ProblemLog): Shared {
      if (!any) return shared;
      const excess = dioptres.finish();
      const codes = partOf.finish();
      const sphere = shared.sphere.map((value, row) => {
        if (excess[row] === 0 || Number.isNaN(value)) return value;
        const { names } = parts[codes[row]];
        const column = names.get("sphere") ?? names.get("prescription") ?? null;
        const text = shared.rawText?.sphere[row] ?? String(value);
        log.add(shared.line[row], column, text, "working-distance-removed", "altered");
        return value - excess[row];
      });
      return { ...shared, sphere };
    },
  };
}
