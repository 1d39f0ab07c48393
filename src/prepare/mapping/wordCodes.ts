import type { DetectedColumn, Holds } from "../detect/detected.js";
import type { Role } from "../detect/roles.js";
import {
  attemptOf,
  correctionOf,
  cycloplegiaOf,
  methodOf,
  opacityOf,
  reasonOf,
  statusOf,
  strabismusOf,
  yesNoOf,
} from "../detect/wordLists.js";

const readers: Readonly<Partial<Record<Role, (text: string) => string | null>>> = {
  status: statusOf,
  cycloplegia: cycloplegiaOf,
  correction: correctionOf,
  attempt: attemptOf,
  method: methodOf,
  strabismus: strabismusOf,
  "media-opacity": opacityOf,
  ptosis: yesNoOf,
  "glasses-prescribed": yesNoOf,
  "known-before": yesNoOf,
  "verification-reason": reasonOf,
};
const keys: Readonly<Partial<Record<Role, string>>> = {
  "media-opacity": "mediaOpacity",
  "glasses-prescribed": "glassesPrescribed",
  "known-before": "knownBefore",
  "verification-reason": "verificationReason",
};

/** What the words of a column stand for, those that are known; null where it is no column of words. */
export function codesOf({ is, facts }: DetectedColumn): Record<string, string> | null {
  const read = readers[is];
  if (read === undefined) return null;
  const codes: Record<string, string> = {};
  for (const text of facts.cells.keys()) {
    const word = read(text);
    if (word !== null) codes[text] = word;
  }
  return codes;
}

/** The codes of a block's columns of words, and the notation of its acuity. */
export function wordCodes(columns: readonly DetectedColumn[], kind: Holds): object {
  const options: Record<string, unknown> = {};
  for (const column of columns) {
    const codes = codesOf(column);
    const key = keys[column.is] ?? column.is;
    if (codes !== null) {
      const before = options[key] as { codes: object } | undefined;
      options[key] = { codes: { ...before?.codes, ...codes } };
    }
    if (column.is === "acuity" && kind === "findings") options.acuity = column.notation ?? "logMAR";
  }
  return options;
}
