import { freeFlags } from "./freeFlags.js";
import { growableCodes, optionalNumbers } from "./growable.js";
import { inFileOrder } from "./inFileOrder.js";
import type { Source } from "./openSource.js";
import { type ReadOptions, readBlocks } from "./readBlocks.js";
import { workingDistance } from "./removeWorkingDistance.js";
import { sharedPlane } from "./sharedPlane.js";
import { checkFindings } from "./suspicions.js";
import { toLogMAR } from "./toLogMAR.js";
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
 * sphere plus half the cylinder. Acuity becomes logMAR. Where a block says `removeWorkingDistanceMm`,
 * 1000 / mm dioptres are taken off its retinoscopy spheres, and each of them is listed as altered.
 *
 * @throws InputError for a source that cannot be read or a mapping that does not fit it
 * @example
 * (await readFindings([{ subject: "a", eye: "OS", sphere: 2, cylinder: 0, axis: 0 }])).n // => 1
 */
export async function readFindings(source: Source, options: ReadOptions = {}): Promise<Findings> {
  const stated = optionalNumbers();
  const acuity = optionalNumbers();
  const method = growableCodes();
  const distance = workingDistance(methods.indexOf("retinoscopy"));
  const cycloplegia = growableCodes();
  const reason = growableCodes();
  const free = freeFlags();
  const flags = yesNoKeys.map((key) => ({ key, codes: growableCodes(), present: false }));

  const read = await readBlocks(source, options, "findings", ({ part, context, ...cells }) => {
    const { block, at } = part;
    const count = context.rows.length;
    const methodCodes = cells.words("method", methods, block.method, "unknown");
    method.append(methodCodes);
    distance.add(part, methodCodes);
    free.add(part, context);
    cycloplegia.append(cells.words("cycloplegia", cycloplegiaStates, block.cycloplegia, "unknown"));
    reason.append(
      cells.words("verificationReason", verificationReasons, block.verificationReason, "unknown"),
    );
    for (const flag of flags) {
      flag.present ||= at.has(flag.key) || block[flag.key] !== undefined;
      flag.codes.append(cells.words(flag.key, yesNo, block[flag.key], "unknown"));
    }
    const equivalents = cells.numbers("statedEquivalent");
    if (equivalents === null) stated.skip(count);
    else stated.append(equivalents);
    const acuities = cells.numbers("acuity");
    if (acuities === null) acuity.skip(count);
    else acuity.append(toLogMAR(acuities, block.acuity ?? "logMAR"));
  });

  const { shared, blocks, parts, header, log } = read;
  const flag = (key: (typeof yesNoKeys)[number]): Coded<(typeof yesNo)[number]> | null => {
    const found = flags.find((entry) => entry.key === key);
    return found?.present ? { codes: found.codes.finishBytes(), labels: yesNo } : null;
  };
  const findings: Findings = {
    kind: "findings",
    ...distance.apply(shared, log),
    method: { codes: method.finishBytes(), labels: methods },
    cycloplegia: { codes: cycloplegia.finishBytes(), labels: cycloplegiaStates },
    statedEquivalent: stated.finish(),
    vertexMm: sharedPlane(blocks, log),
    acuityLogMAR: acuity.finish(),
    strabismus: flag("strabismus"),
    mediaOpacity: flag("mediaOpacity"),
    ptosis: flag("ptosis"),
    glassesPrescribed: flag("glassesPrescribed"),
    knownBefore: flag("knownBefore"),
    verificationReason: { codes: reason.finishBytes(), labels: verificationReasons },
    flags: free.finish(),
  };
  const statedColumn = parts
    .find(({ at }) => at.has("statedEquivalent"))
    ?.at.get("statedEquivalent");
  checkFindings(findings, statedColumn === undefined ? null : header[statedColumn], log);
  return inFileOrder({ ...findings, problems: log.problems });
}
