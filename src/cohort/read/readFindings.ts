import {
  type Coded,
  cycloplegiaStates,
  type Findings,
  verificationReasons,
  yesNoWords as yesNo,
} from "../types.js";
import { freeFlags } from "./freeFlags.js";
import { growableBytes, growableCodes, optionalNumbers } from "./growable.js";
import { inFileOrder, problemsInFileOrder } from "./inFileOrder.js";
import { ownColumns } from "./ownColumns.js";
import { type ReadOptions, readBlocks } from "./readBlocks.js";
import { workingDistance } from "./removeWorkingDistance.js";
import { sharedPlane } from "./sharedPlane.js";
import type { Source } from "./source.js";
import { checkFindings, checkStatedEquivalents } from "./suspicions.js";
import { toLogMAR } from "./toLogMAR.js";

const methods = ["retinoscopy", "autorefraction", "subjective", "unknown"] as const;
const yesNoKeys = [
  "strabismus",
  "mediaOpacity",
  "ptosis",
  "glassesPrescribed",
  "knownBefore",
  "selfPresented",
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
  const method = growableBytes();
  const distance = workingDistance(methods.indexOf("retinoscopy"));
  const cycloplegia = growableBytes();
  const reason = growableBytes();
  const free = freeFlags("readFindings");
  const own = ownColumns("readFindings");
  const partOfRow = growableCodes();
  const partNumbers = new Map<object, number>();
  const flags = yesNoKeys.map((key) => ({ key, codes: growableBytes(), present: false }));

  const read = await readBlocks(source, options, "findings", ({ part, context, ...cells }) => {
    const { block, at } = part;
    const count = context.rows.length;
    if (!partNumbers.has(part)) partNumbers.set(part, partNumbers.size);
    partOfRow.fill(partNumbers.get(part)!, count);
    distance.add(part, cells.words("method", methods, block.method, "unknown", method), count);
    free.add(part, context);
    own.add(part, context);
    cells.words("cycloplegia", cycloplegiaStates, block.cycloplegia, "unknown", cycloplegia);
    const { verificationReason } = block;
    cells.words("verificationReason", verificationReasons, verificationReason, "unknown", reason);
    for (const flag of flags) {
      flag.present ||= at.has(flag.key) || block[flag.key] !== undefined;
      cells.words(flag.key, yesNo, block[flag.key], "unknown", flag.codes);
    }
    if (cells.has("statedEquivalent")) cells.numbers("statedEquivalent", stated.claim(count));
    else stated.skip(count);
    if (cells.has("acuity")) {
      const acuities = cells.numbers("acuity", new Float64Array(count));
      acuity.append(toLogMAR(acuities, block.acuity ?? "logMAR"));
    } else acuity.skip(count);
  });

  const { shared, blocks, parts, log } = read;
  const flag = (key: (typeof yesNoKeys)[number]): Coded<(typeof yesNo)[number]> | null => {
    const found = flags.find((entry) => entry.key === key);
    return found?.present ? { codes: found.codes.finish(), labels: yesNo } : null;
  };
  const inMappingOrder: Findings = {
    kind: "findings",
    ...distance.apply(shared, log),
    method: { codes: method.finish(), labels: methods },
    cycloplegia: { codes: cycloplegia.finish(), labels: cycloplegiaStates },
    statedEquivalent: stated.finish(),
    vertexMm: sharedPlane(blocks, log),
    acuityLogMAR: acuity.finish(),
    strabismus: flag("strabismus"),
    mediaOpacity: flag("mediaOpacity"),
    ptosis: flag("ptosis"),
    glassesPrescribed: flag("glassesPrescribed"),
    knownBefore: flag("knownBefore"),
    selfPresented: flag("selfPresented"),
    verificationReason: { codes: reason.finish(), labels: verificationReasons },
    flags: free.finish(),
    own: own.finish(),
  };
  const partOf = partOfRow.finish();
  const statedColumn = (row: number) => parts[partOf[row]].names.get("statedEquivalent") ?? null;
  checkStatedEquivalents(inMappingOrder, statedColumn, log);
  const findings = inFileOrder(inMappingOrder);
  checkFindings(findings, log);
  return { ...findings, problems: problemsInFileOrder(log.problems) };
}
