import type { Holds } from "../detect/detected.js";
import type { Role } from "../detect/roles.js";

/** The key of the mapping that a role is read under; a role without one is not read. */
const keys: Readonly<Partial<Record<Role, string>>> = {
  sphere: "sphere",
  cylinder: "cylinder",
  axis: "axis",
  prescription: "prescription",
  equivalent: "statedEquivalent",
  status: "status",
  cycloplegia: "cycloplegia",
};
const readingKeys: typeof keys = {
  ...keys,
  instrument: "instrument",
  repeat: "repeat",
  attempt: "attempt",
  correction: "correction",
  confidence: "confidenceScore",
  pupil: "pupilMm",
  "gaze-horizontal": "gazeHorizontal",
  "gaze-vertical": "gazeVertical",
  interpupillary: "interpupillaryMm",
  decision: "programmeDecision",
};
const findingKeys: typeof keys = {
  ...keys,
  method: "method",
  acuity: "acuity",
  strabismus: "strabismus",
  "media-opacity": "mediaOpacity",
  ptosis: "ptosis",
  "glasses-prescribed": "glassesPrescribed",
  "known-before": "knownBefore",
  "verification-reason": "verificationReason",
};
export const keysOf = (kind: Holds): typeof keys =>
  kind === "readings" ? readingKeys : findingKeys;

/** Columns of one's own, whose words are kept as they stand. */
export const flagRoles: readonly Role[] = ["decision", "diagnosis"];
export const rowRoles: readonly Role[] = ["eye", "day", "site"];

export const rowKey = (is: Role) => (is === "date" ? "day" : is);
