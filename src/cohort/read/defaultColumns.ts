import { type ColumnMapping, columnsSchema } from "../columnMapping.js";

const rowKeys = ["subject", "eye", "day", "site"];
const measurementKeys = [
  "sphere",
  "cylinder",
  "axis",
  "prescription",
  "statedEquivalent",
  "status",
  "cycloplegia",
];
const readingKeys = [
  "instrument",
  "repeat",
  "attempt",
  "correction",
  "confidenceScore",
  "pupilMm",
  "gazeHorizontal",
  "gazeVertical",
  "interpupillaryMm",
  "programmeDecision",
  "invited",
  "came",
];
const findingKeys = [
  "method",
  "strabismus",
  "mediaOpacity",
  "ptosis",
  "glassesPrescribed",
  "knownBefore",
  "verificationReason",
  "selfPresented",
];

/** The mapping of a long file whose columns carry the names of the fields. */
export function defaultColumns(
  header: readonly string[],
  kind: "readings" | "findings",
): ColumnMapping {
  const keys = kind === "readings" ? readingKeys : findingKeys;
  const present = (names: readonly string[]) =>
    Object.fromEntries(names.filter((key) => header.includes(key)).map((key) => [key, key]));
  const age = ["ageMonths", "ageYears"].find((key) => header.includes(key));
  return columnsSchema().parse({
    kind: "columns",
    version: 1,
    age: age === undefined ? undefined : age === "ageMonths" ? "months" : "years",
    // these two are needed: a file without them fails where its columns are located
    columns: { ...present(rowKeys), subject: "subject", eye: "eye", age },
    [kind]: [{ columns: present([...measurementKeys, ...keys]) }],
  });
}
