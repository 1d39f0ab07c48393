import { InputError } from "../../results/index.js";

/**
 * The code of a word by which rows are chosen, such as the instrument.
 *
 * @param what the key, and of which data where there are several
 * @param chosen a yes for each row that is left
 * @throws InputError where rows are left and none of them holds the word: a selection that leaves nobody is a
 *   slip of a label more often than a wish
 */
export function codeWanted(
  caller: string,
  what: string,
  key: string,
  { codes, labels }: { readonly codes: ArrayLike<number>; readonly labels: readonly string[] },
  wanted: string,
  chosen: Uint8Array,
): number {
  const counts = new Int32Array(labels.length);
  for (let row = 0; row < chosen.length; row++) if (chosen[row] === 1) counts[codes[row]]++;
  const code = labels.indexOf(wanted);
  if (counts[code] > 0 || counts.every((count) => count === 0)) return code;
  const held = labels.flatMap((label, at) =>
    counts[at] > 0 ? [`"${label}" (${counts[at]} rows)`] : [],
  );
  throw new InputError(
    `${caller} requires ${what} that the rows hold, got "${wanted}"; they hold ${held.join(", ")}: name one of these, or, ` +
      `where the mapping does not say it, add "${key}": "${wanted}" to its block`,
  );
}
