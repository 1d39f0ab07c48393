import type { ColumnFacts } from "./columnFacts.js";
import type { Role } from "./roles.js";
import { eyeOf } from "./wordLists.js";

/** A column whose cells are words for the eyes is the eye where no name says so. */
export function addEyeByCells(list: (Role | null)[], facts: readonly ColumnFacts[]): void {
  if (list.includes("eye")) return;
  const found = facts.flatMap((one, at) => {
    if (one.cells.size > 6) return [];
    const sides = new Set([...one.cells.keys()].map(eyeOf));
    return sides.size === 2 && !sides.has(null) ? [at] : [];
  });
  if (found.length === 1 && list[found[0]] === null) list[found[0]] = "eye";
}

const perEye: ReadonlySet<Role | null> = new Set(["sphere", "prescription", "equivalent"] as const);

/** Where a row holds both eyes, a column of right and left is of something else: a better eye, a hand. */
export function dropEyeBeside(list: (Role | null)[], facts: readonly ColumnFacts[]): void {
  const sides = new Set(list.flatMap((is, at) => (perEye.has(is) ? [facts[at].eye] : [])));
  if (!sides.has("right") || !sides.has("left") || sides.has(null)) return;
  list.forEach((is, at) => {
    if (is === "eye") list[at] = null;
  });
}

const letters: Readonly<Record<string, Role>> = {
  s: "sphere",
  c: "cylinder",
  a: "axis",
  x: "axis",
  as: "axis",
};

/**
 * S, C and A as names, where all three stand side by side, or the others of the eye are known by their words,
 * and their cells are such numbers.
 */
export function addSingleLetters(list: (Role | null)[], facts: readonly ColumnFacts[]): void {
  const groups = new Map<string, Map<string, number>>();
  facts.forEach((one, at) => {
    const [key, letter] = letterOf(one) ?? [];
    if (key === undefined || letter === undefined || list[at] !== null) return;
    const group = groups.get(key) ?? new Map<string, number>();
    group.set(letters[letter] === "axis" ? "a" : letter, at);
    groups.set(key, group);
  });
  for (const group of groups.values()) {
    const fits = ["s", "c", "a"].every((letter) => {
      const at = group.get(letter);
      if (at === undefined) {
        const [one] = group.values();
        return list.some(
          (is, other) => is === letters[letter] && facts[other].eye === facts[one].eye,
        );
      }
      const { numbers, filled } = facts[at];
      const most = letter === "a" ? 180 : 30;
      return filled === 0 || (numbers.share > 0.4 && Math.abs(numbers.middle) <= most);
    });
    if (fits) for (const [letter, at] of group) list[at] = letters[letter];
  }
}

/** The letter that a name ends with, or begins or ends with beside the eye's, as in "R S", "RS" and "S_OD". */
function letterOf({ bare, words, eye, column }: ColumnFacts): [string, string] | null {
  // cycles per degree
  if (/c ?\/ ?d/i.test(column)) return null;
  const plain = bare.replace(/\b(d|dpt|dptr|deg|degrees|diopt\w*)$/, "").trim();
  const [, rest, letter] = /^(.*?)\b([scax]|as)$/.exec(plain) ?? [];
  if (letter !== undefined) return [`${eye} ${rest}`, letter];
  const [, before, last] = /^(od|os|r|l|re|le)([scax])$/.exec(words) ?? [];
  if (last !== undefined) return [`glued ${before}`, last];
  const [, first, after] = /^([scax])(od|os|r|l|re|le)$/.exec(words) ?? [];
  return first === undefined ? null : [`glued ${after}`, first];
}
