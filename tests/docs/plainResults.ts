/** Numbers, vectors, prescriptions, counts and columns of data: they need no kind. */
export const withoutKind = new Set([
  "addPrescriptions",
  "atVertex",
  "averagePrescriptions",
  "combinePrisms",
  "createRandom",
  "crossClassify",
  "fromPowerMatrix",
  "interocularDifference",
  "mirrorEye",
  "parsePrescription",
  "programmeColumns",
  "protocolJsonSchema",
  "ruleAt",
  "ruleMeasures",
  "toPowerVector",
  "toPowerVectors",
  "toPrescription",
  "transpose",
]);

/** Functions, maps, frames, files, and columns of which a source may lack some: no results. */
export const noResult = new Set([
  "createRandom",
  "hashedPseudonyms",
  "joinFrames",
  "randomPseudonyms",
  "ruleColumns",
  "toFrame",
  "toWord",
  "toWorkbook",
]);

/** Intervals whose n stands under another word, or with the caller, who gave it. */
export const nElsewhere = new Set([
  "compareProgrammes",
  "meanInterval",
  "nonInferiority",
  "predictFinding",
  "proportionInterval",
  "referralYield",
  "runStudy",
  "siteJackknife",
]);

/**
 * What is not plain about a value: a number that JSON does not have, a member without value, an object
 * that is none. Typed arrays are columns of data, in which NaN is "missing".
 */
export function notPlain(value: unknown, at = ""): string[] {
  if (typeof value === "number") return Number.isFinite(value) ? [] : [`${at}: ${value}`];
  if (value === null || typeof value === "string" || typeof value === "boolean") return [];
  if (value === undefined || typeof value !== "object") return [`${at}: ${typeof value}`];
  if (ArrayBuffer.isView(value)) return [];
  if (Array.isArray(value)) return value.flatMap((item, i) => notPlain(item, `${at}[${i}]`));
  if (Object.getPrototypeOf(value) !== Object.prototype)
    return [`${at}: ${value.constructor?.name}`];
  return Object.entries(value).flatMap(([key, member]) => notPlain(member, `${at}.${key}`));
}

/** What an interval lacks, in itself and in the results that hold it. A table's cells are told in words. */
export function notStated(
  value: unknown,
  wanted: readonly string[],
  told: ReadonlySet<string> = new Set(),
  at = "",
): string[] {
  if (typeof value !== "object" || value === null || ArrayBuffer.isView(value)) return [];
  const { kind } = value as { readonly kind?: string };
  if (kind === "table") return [];
  const known = new Set([...told, ...Object.keys(value)]);
  const own =
    kind === "estimate"
      ? wanted.filter((key) => !known.has(key)).map((key) => `${at}: no ${key}`)
      : [];
  const members = Object.entries(value);
  return [
    ...own,
    ...members.flatMap(([key, one]) => notStated(one, wanted, known, `${at}.${key}`)),
  ];
}
