/** What a column can be; the keys of a column mapping in words, and what is no part of one. */
export const roles = [
  ...["subject", "eye", "age", "age-unit", "birth-date", "date", "other-date", "day", "site"],
  ...[
    "repeat",
    "attempt",
    "instrument",
    "sphere",
    "cylinder",
    "axis",
    "prescription",
    "equivalent",
  ],
  ...["status", "confidence", "pupil", "gaze-horizontal", "gaze-vertical", "interpupillary"],
  ...["correction", "cycloplegia", "method", "acuity", "strabismus", "media-opacity", "ptosis"],
  ...["glasses-prescribed", "known-before", "verification-reason", "decision", "diagnosis", "sex"],
  ...["name", "address", "postal-code", "phone", "e-mail", "record-number", "url", "examiner"],
  ...["device-serial", "row-number", "free-text", "other", "unknown"],
] as const;
export type Role = (typeof roles)[number];
