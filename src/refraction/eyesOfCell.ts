import { isNotation, readPrescription } from "./parsePrescription.js";

/** How both eyes stand in one cell: each with its mark, or the right or the left one first. */
export const eyesInCellWords = ["marked", "right-left", "left-right"] as const;
export type EyesInCell = (typeof eyesInCellWords)[number];

/** What a cell says of each eye, "" where it says nothing; or why it could not be taken apart. */
export type EyesOfCell =
  | { readonly right: string; readonly left: string; readonly fault?: undefined }
  | { readonly fault: string };

// Marks of the eyes in clinic notation: OD, OS, OU (Latin), R, L and the words of some languages; common
// practice, no source.
const marks = {
  right: "right eye|right|rt|re|r|od|o\\.d\\.|ra|rechts|droite?|derech[oa]|dx",
  left: "left eye|left|lt|le|l|os|o\\.s\\.|ol|og|oi|la|links|gauche|izquierd[oa]|sx",
  both: "both eyes|both|ou|o\\.u\\.|be",
} as const;
type Side = keyof typeof marks;
const sides = Object.keys(marks) as Side[];
const mark = new RegExp(
  `(?<!\\p{L})(?:${sides.map((side) => `(?<${side}>${marks[side]})`).join("|")})(?!\\p{L})`,
  "giu",
);

/**
 * Both eyes of one cell. Under "marked" each prescription stands behind its mark, or each before it, as in
 * "R +1.00 -0.50 x 90 / L +1.25 sph", "OD: +1.00 OS: -0.25" and "OU plano". Under "right-left" and "left-right"
 * the cell is cut where both pieces can be read whole, and refused where there is no such place, or more than one.
 */
export function eyesOfCell(text: string, eyes: EyesInCell): EyesOfCell {
  if (eyes === "marked") return markedEyes(text);
  const pieces = cutInTwo(text);
  if ("fault" in pieces) return pieces;
  const [first, second] = pieces;
  return eyes === "right-left" ? { right: first, left: second } : { right: second, left: first };
}

/** How a cell seems to hold two prescriptions: marked, in some order, or not at all. */
export function twoEyesIn(text: string): "marked" | "ordered" | null {
  if (text.length > 90 || !/\d|pl/i.test(text)) return null;
  const found = markedEyes(text);
  if (found.fault === undefined) {
    const { right, left } = found;
    return right !== "" && left !== "" && (isNotation(right) || isNotation(left)) ? "marked" : null;
  }
  return !isNotation(text) && !("fault" in cutInTwo(text)) ? "ordered" : null;
}

/** Whether a cell is clinic notation of one eye or of both, with marks or without. */
export function holdsNotation(text: string): boolean {
  if (isNotation(text) || twoEyesIn(text) !== null) return true;
  const found = markedEyes(text);
  return found.fault === undefined && text.length <= 90 && isNotation(found.right || found.left);
}

function markedEyes(text: string): EyesOfCell {
  const found = [...text.matchAll(mark)].map(({ index, 0: word, groups }) => ({
    side: sides.find((side) => groups?.[side] !== undefined)!,
    ...{ from: index, to: index + word.length },
  }));
  const [first] = found;
  if (first === undefined) {
    return {
      fault: `a mark of the eye, such as R and L or OD and OS, got none in ${quoted(text)}`,
    };
  }
  const before = bare(text.slice(0, first.from));
  const after = bare(text.slice(found.at(-1)!.to));
  if (before !== "" && after !== "") {
    return {
      fault: `each prescription beside the mark of its eye, got ${quoted(before)} without one`,
    };
  }
  const eyes = new Map<Side, string>();
  for (const [at, { side, from, to }] of found.entries()) {
    if (eyes.has(side) || (side === "both" && found.length > 1)) {
      return { fault: `one prescription an eye, got more in ${quoted(text)}` };
    }
    const start = before === "" ? to : (found[at - 1]?.to ?? 0);
    const end = before === "" ? found[at + 1]?.from : from;
    eyes.set(side, bare(text.slice(start, end)));
  }
  const both = eyes.get("both") ?? "";
  return { right: eyes.get("right") ?? both, left: eyes.get("left") ?? both };
}

/** A piece without the signs that stand between the eyes. */
function bare(piece: string): string {
  return piece
    .replace(/^(?:[\s:=)\],;/|]|\.(?!\d))+/, "")
    .replace(/[\s([,;/|]+$/, "")
    .replace(/\s+[-\u2010-\u2015]$/, "");
}

const between = /\s*(?:[/;|]|,(?!\d)|(?<!\d),)\s*|\s+/g;

/** The one place where a cell falls into two prescriptions, or into one and a word for none. */
function cutInTwo(text: string): readonly [string, string] | { readonly fault: string } {
  const cuts: [string, string][] = [];
  for (const { index, 0: sign } of text.matchAll(between)) {
    const pieces: [string, string] = [
      text.slice(0, index).trim(),
      text.slice(index + sign.length).trim(),
    ];
    const strong = /[/;|\n]/.test(sign);
    const fits = pieces.every((piece) => isWholePrescription(piece) || (strong && isWord(piece)));
    if (fits) cuts.push(pieces);
  }
  if (cuts.length === 1) return cuts[0]!;
  const came = cuts.length === 0 ? "none" : `${cuts.length} such places`;
  return { fault: `one place between two whole prescriptions, got ${came} in ${quoted(text)}` };
}

/** Whether a text is one prescription and nothing else, its axis included. */
export function isWholePrescription(piece: string): boolean {
  try {
    return readPrescription(piece).axisFault === null;
  } catch {
    return false;
  }
}

const isWord = (piece: string): boolean => piece !== "" && !/\d/.test(piece);

function quoted(text: string): string {
  return JSON.stringify(text.length > 40 ? `${text.slice(0, 40)}…` : text);
}
