import { InputError } from "../results/index.js";
import { cylinderLimit, type Prescription, sphereLimit } from "./prescription.js";

/**
 * A prescription from clinic notation, as charts and exports write it.
 *
 * Read: "+1.25 -0.50 x 180", "+1.25/-0.50x5", "pl -0.75 X 090", "plano", "-2.00 DS", "+2.00 sph",
 * "+ 1,25 - 0,50 ax 180°", "+3.25 -1.00 @ 175", "+3.25 / -1.00 * 175", "sph +3.25 cyl -1.00 axis 175",
 * "S+3,25 C-1,00 as 175", "+3,25 DE -1,00 DC 175°", "sf +3,25 cil -1,00 asse 175",
 * Unicode minus and multiplication signs, decimal commas, a third number without "x" after a signed
 * cylinder, an axis left out with a cylinder of 0. The cylinder keeps
 * its sign; the axis is in (0, 180], 0 read as 180; null when the cylinder is 0 and none was
 * written.
 *
 * Nothing is guessed: a power other than 0 needs its sign, a cylinder its axis, and a single number
 * before an axis could be either part.
 *
 * Sphere and cylinder are in dioptres, axes in degrees.
 *
 * @param text one eye, as written
 * @throws when the text is ambiguous or impossible; the message says which part and why
 *
 * @example
 * parsePrescription("+1.25 -0.50 x 180") // => { sphere: 1.25, cylinder: -0.5, axis: 180 }
 * parsePrescription("pl −0,75 × 90°") // => { sphere: 0, cylinder: -0.75, axis: 90 }
 * parsePrescription("-2.00 DS") // => { sphere: -2, cylinder: 0, axis: null }
 */
export function parsePrescription(text: string): Prescription {
  const { prescription, axisFault } = readPrescription(text);
  if (axisFault !== null) fail(axisFault);
  return prescription;
}

/**
 * As `parsePrescription`, but an axis that is missing or cannot be read leaves sphere and cylinder, which M
 * needs alone: the axis is null then, and `axisFault` says what was wanted and what came.
 *
 * @throws when sphere or cylinder is ambiguous or impossible
 */
export function readPrescription(text: string): {
  readonly prescription: Prescription;
  readonly axisFault: string | null;
} {
  if (typeof text !== "string") fail(`text, got ${text === null ? "null" : typeof text}`);
  const plain = plainCharacters(text);
  if (plain === "") fail("a prescription, got an empty text");
  const [, sphereText, sphereUnit, afterSphere] = spherePart.exec(plain) ?? [];
  if (sphereText === undefined) fail(`a sphere first, got ${quoted(plain)}`);
  const [, cylinderText, afterCylinder] = cylinderPart.exec(afterSphere!) ?? [];
  const rest = afterCylinder ?? afterSphere!;
  const [, axisDigits, afterAxis] = axisPart.exec(rest) ?? [];
  if (axisDigits !== undefined && cylinderText === undefined) {
    fail(
      isPlano(sphereText) || /s/.test(sphereUnit ?? "")
        ? `a cylinder before the axis, got axis ${axisDigits} after a sphere alone`
        : `sphere and cylinder before the axis, got one number ${quoted(sphereText)}, which could be either`,
    );
  }
  const unread = axisDigits === undefined ? rest : afterAxis!;
  const noAxis = axisDigits === undefined && cylinderText !== undefined && axisMark.test(unread);
  if (unread !== "" && !noAxis) fail(`nothing after the prescription, got ${quoted(unread)}`);

  const sphere = isPlano(sphereText) ? 0 : power("sphere", sphereText, sphereLimit);
  const cylinder = cylinderText === undefined ? 0 : power("cylinder", cylinderText, cylinderLimit);
  const { axis, fault } = axisNumber(axisDigits);
  const prescription = { sphere, cylinder, axis };
  if (noAxis)
    return { prescription, axisFault: `nothing after the prescription, got ${quoted(unread)}` };
  if (fault !== null) return { prescription, axisFault: fault };
  const missing = cylinder !== 0 && axis === null;
  return {
    prescription,
    axisFault: missing ? `an axis with the cylinder ${quoted(cylinderText!)}, got none` : null,
  };
}

/** Whether a cell is clinic notation that can be read; a number alone could be anything, and is none. */
export function isNotation(text: string): boolean {
  if (text.length > 40 || !/\d|pl/i.test(text)) return false;
  try {
    readPrescription(text);
    return true;
  } catch {
    return false;
  }
}

const number = String.raw`(?:\d+(?:\.\d*)?|\.\d+)`;
const spherePart = new RegExp(
  String.raw`^(plano|plan|pl|[+-]? ?${number})(?![\d.]) ?(ds|sphere|sph|s|d)?(?![a-wyz]) ?(.*)$`,
);
const cylinderPart = new RegExp(
  String.raw`^[/,;]? ?([+-] ?${number}|(?<=[/,;] ?)${number}|${number}(?= ?d?c?(?:yl)? ?(?:$|ax|x|[/,;])))(?![\d.]) ?(?:dc|cyl|d)? ?(.*)$`,
);
const axisPart = new RegExp(
  String.raw`^(?:[/,;]? ?(?:axis|ax|x)|[/,;])? ?(-?\+?${number})(?![\d.]) ?(.*)$`,
);

/** What stands before an axis; without digits behind it the axis is not known. */
const axisMark = /^[/,;]? ?(axis|ax|x)(?![a-z]) ?[^\d]{0,3}$/;

function plainCharacters(text: string): string {
  return (
    text
      .normalize("NFKC")
      .toLowerCase()
      .replace(/[\u2010-\u2015\u2212\ufe63\u207b]/g, "-")
      .replace(/[\u00d7\u2715\u2716\u2a09\u2a2f*@]/g, "x")
      .replace(/[\u00b0\u00ba\u02da]|deg(rees)?\b/g, "")
      .replace(/(\d),(\d)/g, "$1.$2")
      // "+3.25 (-1.00 at 175)", "(-1.00 à 175)"
      .replace(/(?<=\d)\s*(?:à|at|a)\s*(?=\d)/g, " x ")
      .replace(/[()[\]]/g, " ")
      // the words of other languages
      .replace(/\b(?:achse|achs|ach|asse|axe|eje|eixo|as|akse|axel)\b/g, "ax")
      .replace(/\b(?:zyl|zylinder|cil|cilindro|cilinder|syl|sylinder)\b/g, "cyl")
      .replace(/\b(?:esf|esfera|sf|sfera|sfeer|de)\b/g, "sph")
      .replace(/\b(axis|ax)\s*[.:=]/g, "$1")
      // a word for the part may stand before its number as well
      .replace(/^\s*(?:sphere|sph|s)\s*[.:=]?\s*(?=[+-]|pl|0)/, "")
      .replace(/[\s/,;]+(?:cylinder|cyl|c)\s*[.:=]?\s*(?=[+-])/, " ")
      .replace(/\s+/g, " ")
      .trim()
  );
}

function isPlano(text: string): boolean {
  return text.startsWith("pl");
}

function power(part: string, text: string, limit: number): number {
  const value = Number(text.replace(" ", ""));
  if (value !== 0 && !/^[+-]/.test(text)) fail(`a sign on the ${part}, got ${quoted(text)}`);
  if (Math.abs(value) > limit) fail(`a ${part} from -${limit} to ${limit} D, got ${value}`);
  return value + 0;
}

function axisNumber(digits: string | undefined): { axis: number | null; fault: string | null } {
  if (digits === undefined) return { axis: null, fault: null };
  const axis = Number(digits);
  if (axis >= 0 && axis <= 180) return { axis: axis === 0 ? 180 : axis, fault: null };
  return { axis: null, fault: `an axis from 0 to 180 degrees, got axis ${digits}` };
}

/** The piece in question; long texts are cut, since a cell may hold more than a prescription. */
function quoted(text: string): string {
  return JSON.stringify(text.length > 24 ? `${text.slice(0, 24)}…` : text);
}

function fail(requirement: string): never {
  throw new InputError(`parsePrescription requires ${requirement}`);
}
