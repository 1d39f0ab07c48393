import type { Fate } from "../choices.js";
import type { DetectedColumn } from "../detect/detected.js";
import type { Role } from "../detect/roles.js";

const ownFate: Readonly<Partial<Record<Role, Fate>>> = {
  subject: "number",
  date: "day",
  "birth-date": "age",
  "age-unit": "drop",
  "other-date": "drop",
  site: "code",
  examiner: "code",
  name: "drop",
  address: "drop",
  "postal-code": "drop",
  phone: "drop",
  "e-mail": "drop",
  "record-number": "drop",
  url: "drop",
  "device-serial": "drop",
  "row-number": "drop",
  "free-text": "drop",
};

/** What becomes of a column by what it is; null where that is not known. */
export function fateOf({ is }: DetectedColumn): Fate | null {
  return is === "unknown" ? null : (ownFate[is] ?? "keep");
}

/** The word that codes begin with. */
export function codeWord(is: Role): string {
  return is === "site" ? "Site" : is === "examiner" ? "Examiner" : "Code";
}

/** A row's number loses nothing about a child, and the unit of an age goes into its column. */
export function losesNothing(is: Role): boolean {
  return is === "row-number" || is === "age-unit";
}
