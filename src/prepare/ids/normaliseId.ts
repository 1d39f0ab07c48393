/** What can be ignored when the ids of two files are compared; never unasked. */
export const ignorable = ["leading-zeros", "decimals", "case", "blanks", "prefix"] as const;
export type Ignorable = (typeof ignorable)[number];

/** In words, as they follow "would match". */
export const ignorableWords: Readonly<Record<Ignorable, string>> = {
  "leading-zeros": "without leading zeros",
  decimals: "as whole numbers (7.0 as 7)",
  case: "ignoring capitals",
  blanks: "ignoring blanks, hyphens and other signs",
  prefix: "without the letters that all ids of a file begin with",
};

/**
 * How the ids of one file are written once the given is ignored.
 *
 * @param ids all distinct ids of the file: whether they share a prefix is a fact of the whole file
 */
export function idNormaliser(
  ignore: readonly Ignorable[],
  ids: Iterable<string>,
): (id: string) => string {
  if (ignore.length === 0) return (id) => id;
  const has = (one: Ignorable) => ignore.includes(one);
  const prefix = has("prefix") ? sharedPrefix(ids, has("case")) : "";
  return (id) => {
    // as data-frame programs write a column of whole numbers in which one is missing
    if (isDecimal(id)) return has("decimals") ? wholePart(id, has("leading-zeros")) : id;
    let text = id;
    if (has("case")) text = text.toLowerCase();
    if (prefix !== "" && text.startsWith(prefix)) text = text.slice(prefix.length);
    if (has("prefix")) text = text.replace(/^[\s_./-]+/, "");
    if (has("blanks")) text = text.replace(/[\s\p{P}\p{S}]+/gu, "");
    if (has("leading-zeros")) text = text.replace(/^(\D*)0+(?=\d)/, "$1");
    return text;
  };
}

/** Whether an id is a whole number with a decimal point behind it. */
export const isDecimal = (id: string): boolean => /^\d+[.,]0+$/.test(id);

function wholePart(id: string, plain: boolean): string {
  const whole = id.replace(/[.,]0+$/, "");
  return plain ? whole.replace(/^0+(?=\d)/, "") : whole;
}

/** The letters, and signs after them, that every id begins with; "" where one does not. */
function sharedPrefix(ids: Iterable<string>, anyCase: boolean): string {
  let prefix: string | null = null;
  for (const id of ids) {
    const text = anyCase ? id.toLowerCase() : id;
    prefix ??= /^\p{L}+[\s_./-]*/u.exec(text)?.[0] ?? "";
    if (prefix === "") return "";
    while (!text.startsWith(prefix)) prefix = prefix.slice(0, -1);
  }
  return prefix ?? "";
}

/** Every choice of what to ignore, the least first. */
export const ignorableSets: readonly (readonly Ignorable[])[] = Array.from(
  { length: 2 ** ignorable.length },
  (_, bits) => ignorable.filter((_, at) => (bits >> at) & 1),
).toSorted((one, other) => one.length - other.length);
