import type { Eye } from "../../cohort/index.js";
import { isPiece, wordPieces } from "./compoundWords.js";
import { isWord } from "./vocabulary/index.js";

/** A column's name taken apart. */
export interface HeaderWords {
  /** All words in small letters, without accents: "RightSph" and "right_sph" are "right sph". */
  readonly words: string;
  /** The words without the one that says the eye. */
  readonly bare: string;
  readonly eye: Eye | null;
}

const sideWords = (text: string) => new Set(text.split(" "));
const rightWords = sideWords(
  "r rt re od right rechts rechter rechtes rechte droit droite derecho derecha dcho dcha dch der direito direita destro destra dext hoger hogra hojre hoyre prawe prawy prawa prawego sag kanan oikea",
);
const leftWords = sideWords(
  "l lt le os ol og oi left links linker linkes linke gauche izq izquierdo izquierda izdo izda iz esquerdo esquerda esq oe sinistro sinistra sin vanster vanstra venstre lewe lewy lewa lewego sol kiri vasen",
);
/** Marks of an eye that are words of their own elsewhere: at the end of a name of several words only. */
const lastRight = new Set(["ra", "dx"]);
const lastLeft = new Set(["la", "sx"]);
const side = "od|os|og|oi|oe|r|l|re|le|right|left";
const quantity =
  "sph|sphere|cyl|cylinder|ax|axis|se|seq|rx|va|av|bcva|ucva|logmar|visus|acuity|pup|pupil|conf|score|qual|status|esf|cil|zyl|eje|eixo|axe|achse|asse|sf|sfera|esfera|cilindro|zylinder|sphare|iop|sig";
const glued = new RegExp(`^(${side})(${quantity})$|^(${quantity})(${side})$`);

/** Letters that are no other one with a mark. */
export const plainLetters: Readonly<Record<string, string>> = {
  ...{ æ: "ae", œ: "oe", ø: "o", ß: "ss", ł: "l", ı: "i", đ: "d", ð: "d" },
  ...{ Æ: "Ae", Œ: "Oe", Ø: "O", Ł: "L", Đ: "D" },
};

/**
 * The words of a column's name, and the eye that one of them stands for. A name with words for both
 * eyes says neither.
 */
export function headerWords(name: string): HeaderWords {
  const list = name
    // the axis in Polish, which without its accent is a left eye
    .replace(/(?<!\p{L})o\u015b(?!\p{L})/giu, "osie")
    // endings of either sex, and signs of an ordinal: "Nombre(s)", "Médico(a)", "N.º"
    .replace(
      /(?<=\p{L})\((?:a|as|e|es|s|n|in|innen)\)|(?<=\p{L}{3})\/(?:a|as|in|innen|e)(?!\p{L})|[\u00ba\u00aa]/giu,
      "",
    )
    .normalize("NFD")
    .replace(/\p{M}/gu, "")
    .replace(/[æœøßłıđðÆŒØŁĐ]/g, (letter) => plainLetters[letter])
    .replace(/(?<![A-Za-z])(OD|OS|RE|LE)(?=[a-z]{2})/g, "$1 ")
    .replace(/(VA|AV)(sc|cc)(?![a-z])/g, "$1 $2")
    .replace(/\bDoB\b/g, "DOB")
    // "\u0394SE", "dSE": a difference
    .replace(/[\u0394\u2206\u03b4]|(?<![A-Za-z])d(?=[A-Z]{2}|[A-Z][a-z])/g, " delta ")
    .replace(/\bAxL\b/g, "AXL")
    .replace(/^v(od|os|oi|og|oe)\b/i, "va $1")
    // "L/P", "G/F", "m/w": letters of the sexes, and no left eye
    .replace(/^(?:l\/p|p\/l|g\/f|f\/g|m\/w|w\/m|m\/f|f\/m)$/i, "gender")
    .replaceAll("_", " ")
    .replace(/([a-z])([A-Z])/g, "$1 $2")
    .replace(/([A-Za-z])(\d)/g, "$1 $2")
    .replace(/([A-Z])([A-Z][a-z])/g, "$1 $2")
    .replace(/(\d)([A-Za-z])/g, "$1 $2")
    .toLowerCase()
    .replace(/[#№]/g, " number ")
    // "V/A", "s/c", "F/U"
    .replace(/\b(v\/a|a\/v|s\/c|c\/c|f\/u|s\/n)\b/g, (letters) => letters.replace("/", ""))
    // "P/R": what is decided, and no right eye
    .replace(/^p\/[rf]$/, "pass or refer")
    // "V.A.", "R.E.", "D.O.B."
    .replace(/\b(?:[a-z]\.){1,3}[a-z]\b\.?/g, (letters) => letters.replaceAll(".", ""))
    .split(/[^\p{L}\p{N}]+/u)
    .filter((word) => word !== "")
    .flatMap((word) => {
      const parts = isPiece(word) || isWord(word) ? null : glued.exec(word);
      return parts === null
        ? wordPieces(word)
        : parts.slice(1).filter((part) => part !== undefined);
    });
  const last = list.length > 1 ? list.findLastIndex((word) => !/^(mm|d|deg|dpt)$/.test(word)) : -1;
  const sides = list.map((word, at) => {
    if (rightWords.has(word) || (at === last && lastRight.has(word))) return "right";
    return leftWords.has(word) || (at === last && lastLeft.has(word)) ? "left" : null;
  });
  const found = new Set(sides.filter((side) => side !== null));
  const [eye] = found.size === 1 ? found : [null];
  const bare = eye === null ? list : list.filter((_, at) => sides[at] === null);
  // "right eye sph" says no more of the eye than "right sph"
  const rest =
    eye === null
      ? bare
      : bare.filter(
          (word) =>
            !/^(eye|auge|auges|oeil|ojo|olho|occhio|oog|oga|oye|oje|oko|oka|goz|mata|silma)$/.test(
              word,
            ),
        );
  return { words: list.join(" "), bare: rest.join(" "), eye };
}
