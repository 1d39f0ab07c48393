import { share } from "./cellForms.js";
import type { DetectedColumn, Holds } from "./detected.js";
import { dropsIn } from "./dropWords.js";
import type { Role } from "./roles.js";
import { cycloplegiaOf } from "./wordLists.js";

const readingRoles: ReadonlySet<Role> = new Set([
  "confidence",
  "pupil",
  "gaze-horizontal",
  "gaze-vertical",
  "status",
  "instrument",
  "device-serial",
  "attempt",
  "repeat",
  "decision",
  "correction",
  "interpupillary",
]);
const findingRoles: ReadonlySet<Role> = new Set([
  "cycloplegia",
  "method",
  "strabismus",
  "media-opacity",
  "ptosis",
  "glasses-prescribed",
  "diagnosis",
  "verification-reason",
  "known-before",
  "acuity",
]);
/** What an exam mostly records, and many a screening too. */
const ofEither: ReadonlySet<Role> = new Set(["acuity", "known-before"]);
export const measuredRoles: ReadonlySet<Role> = new Set([
  "sphere",
  "cylinder",
  "axis",
  "prescription",
  "equivalent",
]);

const readingWords =
  /screen|\bscr\b|skrining|przesiew|tarama|cribad|pesquis|deteccion|depist|triagem|rastre|cribado|tamiz|vorsorge|reihenunt|reading|metingen|messwerte|device|handheld|autoref|instrument|kiosk|session|result|capture|school/;
const findingWords =
  /exam|\bexm\b|muayene|pemeriks|badani|undersok|undersog|oyelege|ogonlak|ojenlaeg|poradni|\besam|clinic|klini|finding|befund|hospital|follow|cyclo|ophth|ophta|oftalm|oculist|augenarzt|orthopt|ortott|ortopt|optom|bilan|valorac|referral|outcome|appointment|consult|retinosc|refraction|eye ?dep|chart|diagnos|assessment/;
const blockReading =
  /\b(scr|screen\w*|depist\w*|triagem|rastre\w*|cribado|tamiz\w*|device|handheld|dry|noncyclo|undilated|school|auto\w*|ar|reading|pre)\b/;
const blockFinding =
  /\b(exm|exam\w*|esam\w*|bilan|valorac\w*|consult\w*|augenarzt\w*|wet|ret|retinoscopy|subj\w*|subjective|final|dilated|clinic\w*|optom\w*|ophth\w*|manifest|post|reference|diagn\w*|follow)\b/;

interface Detected {
  readonly file: string;
  readonly columns: readonly DetectedColumn[];
}

export function hasMeasurements(columns: readonly DetectedColumn[]): boolean {
  return columns.some(({ is }) => measuredRoles.has(is));
}

/**
 * What each file holds: by what only readings or only findings have, by the words of its name, and, where
 * only one file of two is left open, by the other. Null where that does not tell.
 */
export function holdsOf(
  files: readonly Detected[],
  said: readonly (readonly Holds[] | null | undefined)[],
): (readonly Holds[] | null)[] {
  const own = files.map((one, at) => said[at] ?? alone(one, files.length === 1));
  const open = own.flatMap((holds, at) => (holds === null ? [at] : []));
  const known = own.filter((holds) => holds !== null && holds.length === 1);
  // without a measurement it could be a list of children
  if (open.length === 1 && known.length === 1 && hasMeasurements(files[open[0]].columns)) {
    own[open[0]] = [known[0]?.[0] === "readings" ? "findings" : "readings"];
  }
  // a study needs both kinds: where all files seem to be of one, one of them could be the other
  if (
    open.length === 0 &&
    known.length > 1 &&
    new Set(known.map((holds) => holds?.[0])).size === 1
  ) {
    return own.map((holds, at) => (said[at] == null && holds?.length === 1 ? null : holds));
  }
  return own;
}

function alone({ file, columns }: Detected, only: boolean): readonly Holds[] | null {
  if (!hasMeasurements(columns)) {
    // what is asked could be the measurement, and one file alone has to hold some
    return only || columns.some(({ questions }) => questions.length > 0) ? null : [];
  }
  const blocks = new Set(
    columns.filter(({ is }) => measuredRoles.has(is)).map(({ block }) => block),
  );
  const kinds = [...blocks].map(blockKind);
  const dates = columns
    .filter(({ is }) => is === "date" || is === "day")
    .map(({ facts }) => facts.words);
  const twoDates =
    dates.some((words) => blockKind(words) === "readings") &&
    dates.some((words) => blockKind(words) === "findings");
  if (kinds.includes("readings") && kinds.includes("findings") && (only || twoDates)) {
    // a clinic refracts before and after drops as well, and nobody was screened there
    const name = file.toLowerCase();
    const screened = [...blocks].some(
      (block) => blockKind(block) === "readings" && dropsIn(block) !== "none" && block !== "pre",
    );
    if (!screened && !twoDates && findingWords.test(name) && !readingWords.test(name)) return null;
    return ["readings", "findings"];
  }
  // numbers of one eye under a name that nothing here knows could be another measurement
  const open = columns.some(
    ({ is, facts }) => is === "unknown" && facts.eye !== null && facts.numbers.share > 0.5,
  );
  const both = [readingRoles, findingRoles].every((list) => columns.some(({ is }) => list.has(is)));
  if (open && (both || dates.length > 1)) return null;
  // rows of an eye with drops and without: a reading and a finding could stand below each other
  if (rowsAnEye(columns) >= 1.5 && columns.some(isOfBoth)) return null;
  // a measurement under a word that nothing here knows, beside an exam or with a date of its own
  const unknown = [...blocks].some((one) => one !== "" && blockKind(one) === null);
  // two measurements under words that are no number of a repeat could be a screening and an exam
  const words = new Set([...blocks].map((one) => one.replace(/\d+/g, "").trim()));
  if (unknown && words.size > 1) return null;
  if (unknown && (kinds.includes("findings") || (kinds.includes("readings") && dates.length > 1)))
    return null;
  // each thing once: a screening takes the acuity of two eyes as well, and asks for glasses
  const roles = new Set(columns.map(({ is }) => is));
  const score = (list: ReadonlySet<Role>, words: RegExp) =>
    [...roles]
      .filter((is) => list.has(is))
      .reduce((sum, is) => sum + (ofEither.has(is) ? 0.5 : 1), 0) +
    columns.filter(({ facts }) => words.test(facts.words)).length / 2 +
    (words.test(file.toLowerCase()) ? 3 : 0);
  const readings = score(readingRoles, readingWords);
  const findings = score(findingRoles, findingWords);
  if (Math.abs(readings - findings) < 1) return null;
  return [readings > findings ? "readings" : "findings"];
}

function rowsAnEye(columns: readonly DetectedColumn[]): number {
  const subject = columns.find(({ is }) => is === "subject")?.facts;
  if (subject === undefined || subject.cells.size === 0) return 0;
  const eyes = columns.some(({ is }) => is === "eye") ? 2 : 1;
  return subject.filled / subject.cells.size / eyes;
}

function isOfBoth({ is, facts }: DetectedColumn): boolean {
  // a column that is asked could say it as well
  if (is !== "cycloplegia" && is !== "unknown") return false;
  const said = (drops: string) => share(facts, (text) => cycloplegiaOf(text) === drops);
  return said("none") > 0.25 && said("full") > 0.25;
}

/** Whether words of a name speak of a screening or of an exam. */
export function blockKind(block: string): Holds | null {
  const drops = dropsIn(block);
  if (drops === "full") return "findings";
  if (drops === "none") return "readings";
  if (blockFinding.test(block)) return "findings";
  return blockReading.test(block) ? "readings" : null;
}

/** Whose measurement a column belongs to, in a file that holds both. */
export function sideOf(
  { block, is, facts }: DetectedColumn,
  columns: readonly DetectedColumn[],
  holds: readonly Holds[] | null,
): Holds | null {
  if (holds?.length === 1) return holds[0];
  if (holds === null || holds.length === 0) return null;
  const byBlock =
    blockKind(block) ?? (measuredRoles.has(is) && block === "" ? otherThan(columns) : null);
  if (byBlock !== null) return byBlock;
  const byWords = blockKind(facts.words);
  if (byWords !== null) return byWords;
  if (readingRoles.has(is)) return "readings";
  return findingRoles.has(is) ? "findings" : null;
}

/** The kind that the named blocks of a file leave to the one without a word of its own. */
function otherThan(columns: readonly DetectedColumn[]): Holds | null {
  const kinds = new Set(
    columns.filter(({ is }) => measuredRoles.has(is)).map(({ block }) => blockKind(block)),
  );
  if (kinds.has("readings") && kinds.has("findings")) return null;
  return kinds.has("findings") ? "readings" : kinds.has("readings") ? "findings" : null;
}
