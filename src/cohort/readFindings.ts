import { InputError } from "../results/index.js";
import { defineColumns, type FindingBlock } from "./columnMapping.js";
import { defaultFindingColumns } from "./defaultColumns.js";
import { growableCodes } from "./growable.js";
import { measurementParts } from "./measurementParts.js";
import { openTable, type Source, sourceName } from "./openTable.js";
import { problemLog } from "./problemLog.js";
import { readAcuity } from "./readAcuity.js";
import { readNumbers, readWords } from "./readCells.js";
import { collectMeasurements, optionalNumbers } from "./readMeasurements.js";
import type { ReadOptions } from "./readReadings.js";
import { sharedPlane } from "./sharedPlane.js";
import { checkDuplicates, checkStatedEquivalents } from "./suspicions.js";
import { type Coded, cycloplegiaStates, type Findings, verificationReasons } from "./types.js";

const methods = ["retinoscopy", "autorefraction", "subjective", "unknown"] as const;
const yesNo = ["no", "yes", "unknown"] as const;
const yesNoKeys = [
  "strabismus",
  "mediaOpacity",
  "ptosis",
  "glassesPrescribed",
  "knownBefore",
] as const;

/**
 * Reads exam findings from a file or from rows in memory into columns, with the same care as
 * `readReadings`. A stated spherical equivalent is kept as written, and listed where it is not
 * sphere plus half the cylinder.
 *
 * @throws InputError for a source that cannot be read or a mapping that does not fit it
 * @example
 * (await readFindings([{ subject: "a", eye: "OS", sphere: 2, cylinder: 0, axis: 0 }])).n // => 1
 */
export async function readFindings(source: Source, options: ReadOptions = {}): Promise<Findings> {
  const { signal, onProgress, strict } = options;
  const log = problemLog(sourceName(source), { strict });
  const given = options.columns === undefined ? null : defineColumns(options.columns);
  const table = await openTable(source, given?.text ?? {}, log, "readFindings");
  signal?.throwIfAborted();
  const mapping = given ?? defaultFindingColumns(table.header);
  if (mapping.findings === undefined) {
    throw new InputError("readFindings requires a mapping with findings, got one without");
  }
  const parts = measurementParts<FindingBlock>(
    mapping,
    mapping.findings,
    table.header,
    "readFindings",
  );
  const measurements = collectMeasurements(mapping);
  const stated = optionalNumbers();
  const acuity = optionalNumbers();
  const method = growableCodes();
  const cycloplegia = growableCodes();
  const reason = growableCodes();
  const flags = yesNoKeys.map((key) => ({ key, codes: growableCodes(), present: false }));

  parts.forEach((part, index) => {
    signal?.throwIfAborted();
    const { block, at } = part;
    const context = measurements.add(table, log, part);
    const count = context.rows.length;
    const words = <Word extends string>(
      key: string,
      list: readonly Word[],
      option: Word | { codes: Record<string, Word> } | undefined,
    ): Int32Array => {
      const unknown = list.indexOf("unknown" as Word);
      const column = at.get(key);
      if (typeof option === "string") return new Int32Array(count).fill(list.indexOf(option));
      if (column === undefined) return new Int32Array(count).fill(unknown);
      return readWords(context, column, list, option?.codes, unknown);
    };
    method.append(words("method", methods, block.method));
    cycloplegia.append(words("cycloplegia", cycloplegiaStates, block.cycloplegia));
    reason.append(words("verificationReason", verificationReasons, block.verificationReason));
    for (const flag of flags) {
      flag.present ||= at.has(flag.key) || block[flag.key] !== undefined;
      flag.codes.append(words(flag.key, yesNo, block[flag.key]));
    }
    const statedColumn = at.get("statedEquivalent");
    if (statedColumn === undefined) stated.skip(count);
    else {
      stated.append(
        readNumbers(context, statedColumn, { low: -50, high: 50, rule: "sphere-range" }),
      );
    }
    const acuityColumn = at.get("acuity");
    if (acuityColumn === undefined) acuity.skip(count);
    else acuity.append(readAcuity(context, acuityColumn, block.acuity ?? "logMAR"));
    onProgress?.({ stage: "reading", done: (index + 1) / parts.length });
  });

  const shared = measurements.finish([]);
  const flag = (key: (typeof yesNoKeys)[number]): Coded<(typeof yesNo)[number]> | null => {
    const { present, codes } = flags.find((entry) => entry.key === key)!;
    return present ? { codes: Uint8Array.from(codes.finish()), labels: yesNo } : null;
  };
  const findings: Findings = {
    kind: "findings",
    ...shared,
    method: { codes: Uint8Array.from(method.finish()), labels: methods },
    cycloplegia: { codes: Uint8Array.from(cycloplegia.finish()), labels: cycloplegiaStates },
    statedEquivalent: stated.finish(),
    vertexMm: sharedPlane(mapping.findings, log),
    acuityLogMAR: acuity.finish(),
    strabismus: flag("strabismus"),
    mediaOpacity: flag("mediaOpacity"),
    ptosis: flag("ptosis"),
    glassesPrescribed: flag("glassesPrescribed"),
    knownBefore: flag("knownBefore"),
    verificationReason: { codes: Uint8Array.from(reason.finish()), labels: verificationReasons },
  };
  const statedName = parts.find(({ at }) => at.has("statedEquivalent"))?.at.get("statedEquivalent");
  if (statedName !== undefined) checkStatedEquivalents(findings, table.header[statedName], log);
  checkDuplicates(findings, log);
  return { ...findings, problems: log.problems.toSorted((a, b) => (a.row ?? 0) - (b.row ?? 0)) };
}
