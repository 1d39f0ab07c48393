import type { ColumnFacts } from "./columnFacts.js";
import { dropsIn } from "./dropWords.js";
import type { Role } from "./roles.js";
import * as words from "./vocabulary/index.js";
import { anyOf } from "./vocabulary/index.js";

const past = anyOf(words.past);
const relatives = anyOf(words.relatives);
const compared = anyOf(words.difference, words.spread);
const spectacles = anyOf(words.spectacles);
const provisional = anyOf(words.provisional);

/** "Verwijsdiagnose", "Arbeitsdiagnose": but for those that are the last word. */
const compound =
  /\b(?!(?:end|eind|haupt|hoofd|hoved|huvud|augen|oog|oye|ogon|ojen|slut)\w*diagnos)\w+diagnos/;

const powers: ReadonlySet<Role> = new Set([
  ...(["sphere", "cylinder", "axis", "prescription", "equivalent"] as const),
]);
/** Numbers of an eye, of which a difference or a spread is another thing. */
const amounts: ReadonlySet<Role> = new Set([
  ...powers,
  ...(["acuity", "pupil", "interpupillary", "gaze-horizontal", "gaze-vertical"] as const),
  "confidence",
]);
/** What is said of the child at this visit, and not of a day before it. */
const ofToday: ReadonlySet<Role> = new Set([
  ...amounts,
  ...(["status", "cycloplegia", "method", "correction", "glasses-prescribed"] as const),
  ...(["strabismus", "media-opacity", "ptosis", "decision", "diagnosis"] as const),
]);

/**
 * Whether a name speaks of another day, another person, a difference or a spread, so that its column is not what an
 * analysis takes it for: "Previously screened", "Father sphere", "dSE", "Referral diagnosis".
 */
export function isOfAnother({ words: name, bare }: ColumnFacts, is: Role): boolean {
  if (!ofToday.has(is)) return false;
  // "before drops" is of this visit
  if (past.test(name) && dropsIn(name) !== "none") return true;
  if (relatives.test(name)) return true;
  if (amounts.has(is) && compared.test(name)) return true;
  // "d SE" beside no other eye of that letter
  if (is === "equivalent" && /\bminus\b|\bd (se|mse|ser|seqv?|equiv\w*)\b/.test(bare)) return true;
  if (powers.has(is) && spectacles.test(name)) return true;
  return is === "diagnosis" && (provisional.test(name) || compound.test(name));
}
