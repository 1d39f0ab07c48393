import { readPrescription } from "../../refraction/index.js";
import type { CodeWords } from "./codeWords.js";
import type { CellContext } from "./readCells.js";

type Parsed = ReturnType<typeof readPrescription> | "nothing" | { readonly fault: string };

/**
 * Sphere, cylinder and axis from one text cell in clinic notation. Text that is no prescription, or
 * could be several, is listed and set aside; an axis that cannot be read leaves sphere and cylinder for M.
 */
export function readPrescriptions(
  { table, log, rows, missing: missingIn }: CellContext,
  column: number,
  marks: CodeWords<unknown>,
  { sphere, cylinder, axis }: Record<"sphere" | "cylinder" | "axis", Float64Array>,
): void {
  const { codes, labels } = table.coded(column);
  const missing = missingIn("prescription", column, "anything");
  const parsed = new Map<number, Parsed>();
  for (const values of [sphere, cylinder, axis]) values.fill(Number.NaN);
  for (let k = 0; k < rows.length; k++) {
    const row = rows[k];
    const found = parsed.get(codes[row]) ?? parse(labels[codes[row]], codes[row]);
    parsed.set(codes[row], found);
    if (found === "nothing") continue;
    const at = [table.line(row), table.header[column], labels[codes[row]]] as const;
    if ("fault" in found) {
      log.add(...at, "prescription-unclear", "set-aside", found.fault);
      continue;
    }
    const { prescription, axisFault } = found;
    sphere[k] = prescription.sphere;
    cylinder[k] = prescription.cylinder;
    axis[k] = prescription.axis ?? Number.NaN;
    if (axisFault !== null) log.add(...at, "axis-missing", "kept", `requires ${axisFault}`);
  }
  function parse(text: string, code: number): Parsed {
    if (text === "" || missing.says(text) || marks.of(text) !== undefined) return "nothing";
    const fault = table.faultOf?.(column, code);
    if (fault !== undefined) return { fault: `requires ${fault}` };
    try {
      return readPrescription(text);
    } catch (error) {
      return { fault: (error as Error).message.replace("parsePrescription ", "") };
    }
  }
}
