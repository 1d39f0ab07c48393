import type { SeededRandom } from "./parsers.js";

const pick = <One>(random: SeededRandom, list: readonly One[]): One =>
  list[random.integer(list.length)];

/** Characters that text of files holds where nobody expects them. */
const odd = [
  "\u0000",
  "\u0007",
  "\u001b",
  "\r",
  "\n",
  "\t",
  "\u00a0",
  "\u2009",
  "\u202e",
  "\u2212",
  "\u2013",
  "\ufeff",
  "\ud800",
  "\u00bd",
  "\u0663",
  "\uff11",
  "×",
  "°",
  '"',
  "'",
  ",",
  ";",
  "|",
  "/",
  "\\",
  "{",
  "[",
  "<",
  "=",
  "@",
  "%",
];
const numbers = [
  "0",
  "-0",
  "1e308",
  "1e-320",
  "9007199254740993",
  "-1",
  "0x10",
  "1_000",
  "NaN",
  "Infinity",
  "00",
  "1.",
  ".5",
  "1,5",
  "1..2",
  "--1",
  "+",
];

/** Another text, one to four changes away: letters, pieces of other texts, words of the parser's trade. */
export function mutateText(
  text: string,
  others: readonly string[],
  words: readonly string[],
  random: SeededRandom,
): string {
  let made = text;
  for (let change = random.integer(4); change >= 0; change--) {
    const at = random.integer(made.length + 1);
    const to = Math.min(made.length, at + 1 + random.integer(8));
    const [before, piece, after] = [made.slice(0, at), made.slice(at, to), made.slice(to)];
    switch (random.integer(9)) {
      case 0:
        made = before + after;
        break;
      case 1:
        made = before + pick(random, odd) + made.slice(at);
        break;
      case 2:
        made = before + pick(random, words) + made.slice(at);
        break;
      case 3:
        made = before + pick(random, words) + after;
        break;
      case 4:
        made = before + pick(random, numbers) + after;
        break;
      case 5:
        made = before + piece + piece + after;
        break;
      case 6: {
        const other = pick(random, others);
        made = before + other.slice(random.integer(other.length + 1));
        break;
      }
      case 7:
        made = made.replace(/\d/g, (digit) =>
          random.uniform() < 0.2 ? String(random.integer(10)) : digit,
        );
        break;
      default:
        made =
          before +
          (random.uniform() < 0.5 ? piece.toUpperCase() : [...piece].reverse().join("")) +
          after;
    }
  }
  return made.slice(0, 4000);
}

type Json = unknown;
const leaves = (words: readonly string[]): readonly Json[] => [
  null,
  true,
  false,
  0,
  -1,
  1,
  0.5,
  1e308,
  -1e308,
  2 ** 53,
  "",
  " ",
  "__proto__",
  [],
  {},
  [[]],
  { kind: 7 },
  ...words,
];

/** Another value, one to three changes away: a key or entry gone, doubled, renamed, or something else in its place. */
export function mutateJson(
  text: string,
  others: readonly string[],
  words: readonly string[],
  random: SeededRandom,
): string {
  let made: Json = JSON.parse(text);
  for (let change = random.integer(3); change >= 0; change--) {
    const places = placesOf(made);
    made = changed(
      made,
      pick(random, places),
      () => {
        if (random.uniform() < 0.25) {
          const other = JSON.parse(pick(random, others));
          const path = pick(random, placesOf(other));
          return path.reduce<Json>((value, key) => (value as { [key: string]: Json })[key], other);
        }
        return pick(random, leaves(words));
      },
      random,
      words,
    );
  }
  return JSON.stringify(made) ?? "null";
}

function placesOf(value: Json, path: readonly string[] = []): (readonly string[])[] {
  if (typeof value !== "object" || value === null) return [path];
  return [path, ...Object.entries(value).flatMap(([key, one]) => placesOf(one, [...path, key]))];
}

function changed(
  value: Json,
  path: readonly string[],
  other: () => Json,
  random: SeededRandom,
  words: readonly string[],
): Json {
  if (path.length === 0) return other();
  const [key, ...rest] = path;
  if (Array.isArray(value)) {
    const list = [...value];
    const at = Number(key);
    if (rest.length > 0) list[at] = changed(list[at], rest, other, random, words);
    else if (random.integer(3) === 0) list.splice(at, 1);
    else if (random.integer(2) === 0) list.splice(at, 0, list[at]);
    else list[at] = other();
    return list;
  }
  const { [key]: old, ...kept } = value as { [key: string]: Json };
  if (rest.length > 0) return { ...kept, [key]: changed(old, rest, other, random, words) };
  if (random.integer(4) === 0) return kept;
  const name = random.integer(4) === 0 ? pick(random, words) : key;
  return { ...kept, [name]: random.integer(3) === 0 ? old : other() };
}
