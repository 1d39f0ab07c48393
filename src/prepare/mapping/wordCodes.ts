import type { DetectedColumn, Holds } from "../detect/detected.js";
import type { Role } from "../detect/roles.js";
import {
  attemptOf,
  correctionOf,
  cycloplegiaOf,
  decisionOf,
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
  decision: "programmeDecision",
};

/** Under "referred" a yes is a referral, under "passed" it is none; under another name it could be either. */
function decisionReader({ facts }: DetectedColumn): (text: string) => string | null {
  const refers =
    /\b(refer\w*|fail\w*|risk|auffallig\w*|uberw\w*|derivad\w*|remitid\w*|oriente\w*|adress\w*|encaminh\w*|invi(?:at|ar|o)\w*|verwij\w*|verwez\w*|henvis\w*|remiss\w*)\b/.test(
      facts.words,
    );
  const passes = /\bpass\w*\b/.test(facts.words);
  // "Pass / Refer" with P and R
  const letters: Readonly<Record<string, string>> =
    refers && passes ? { p: "pass", r: "refer", f: "refer" } : {};
  // "none" as a recommendation is a pass
  const advises = /\b(recommend\w*|advice|action)\b/.test(facts.words);
  return (text) => {
    if (advises && /^(none|nil)$/i.test(text)) return "pass";
    const letter = letters[text.toLowerCase()];
    if (letter !== undefined) return letter;
    const word = yesNoOf(text);
    if (word === null || word === "unknown" || refers === passes) return decisionOf(text);
    return (word === "yes") === refers ? "refer" : "pass";
  };
}

/** Names under which a yes says that there is none: "media clear", "eyes straight", "unaided", "dry". */
const turnedRound: Readonly<Partial<Record<Role, RegExp>>> = {
  "media-opacity": /\b(clear|klar\w*|clair\w*|claros?|chiari|helder|normal|intact)\b/,
  strabismus: /\b(straight|aligned|ortho\w*|orto\w*|normal|gerade|parallel|no|not)\b/,
  ptosis: /\b(no|not|normal)\b/,
  correction: /\b(unaided|uncorrected|without|no|not|ohne|sans|sin|sem|senza|zonder)\b/,
  cycloplegia: /\b(dry|undilated|noncyclo\w*|non|no|not|without|ohne|sans|sin|sem|senza|zonder)\b/,
  "glasses-prescribed": /\b(not?|non|none)\b/,
};
const opposite: Readonly<Record<string, string>> = {
  ...{ yes: "no", no: "yes", full: "none", none: "full", glasses: "none" },
};

/** A yes or no under such a name, the other way round; a word that says it itself stays. */
function readerOf(column: DetectedColumn): ((text: string) => string | null) | undefined {
  const { is, facts } = column;
  if (is === "decision") return decisionReader(column);
  const read = readers[is];
  if (read === undefined || turnedRound[is]?.test(facts.words) !== true) return read;
  const none = is === "correction" ? "glasses" : "full";
  return (text) => {
    const word = read(text);
    const plain = yesNoOf(text);
    if (word === null || (plain !== "yes" && plain !== "no")) return word;
    return word === "none" ? none : (opposite[word] ?? word);
  };
}

type Codes = Readonly<Record<string, string>> | null;
const made = new WeakMap<DetectedColumn, Codes>();

/**
 * What the words of a column stand for, those that are known; null where it is no column of words. Every cell of
 * a column asks for them, so they are made once.
 */
export function codesOf(column: DetectedColumn): Codes {
  const before = made.get(column);
  if (before !== undefined) return before;
  const codes = codesFor(column);
  made.set(column, codes);
  return codes;
}

function codesFor(column: DetectedColumn): Codes {
  const { facts } = column;
  const read = readerOf(column);
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
    const codes = column.is === "decision" && kind === "findings" ? null : codesOf(column);
    const key = keys[column.is] ?? column.is;
    if (codes !== null) {
      const before = options[key] as { codes: object } | undefined;
      options[key] = { codes: { ...before?.codes, ...codes } };
    }
    if (column.is === "acuity" && kind === "findings") options.acuity = column.notation ?? "logMAR";
  }
  return options;
}
