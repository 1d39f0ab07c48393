/** No plan asks for more children than this; beyond it there is no number. */
export const mostChildren = 10_000_000;

/**
 * The smallest whole number from which `enough` holds and goes on holding; null where none is found
 * up to `most`.
 *
 * Exact power runs like a saw: one child more may cost power, because the count that is needed
 * rises by one. So the first number that is enough is not the answer; every number up to half as
 * many again (at least 100 more) is looked at.
 */
export function smallestStaying(
  enough: (n: number) => boolean,
  options: { readonly from?: number; readonly most?: number } = {},
): number | null {
  const { from = 1 } = options;
  let answer = smallestEnough(enough, options);
  if (answer === null) return null;
  for (let n = answer + 1; n <= answer + Math.max(100, answer / 2); n++) {
    if (!enough(n)) answer = n + 1;
  }
  while (answer > from && enough(answer - 1)) answer--;
  return answer;
}

/** The smallest whole number for which `enough` holds, where more is always enough too. */
export function smallestEnough(
  enough: (n: number) => boolean,
  options: { readonly from?: number; readonly most?: number } = {},
): number | null {
  const { from = 1, most = mostChildren } = options;
  let low = from - 1;
  let high = from;
  while (!enough(high)) {
    if (high >= most) return null;
    low = high;
    high = Math.min(most, high * 2);
  }
  while (high - low > 1) {
    const middle = Math.floor((low + high) / 2);
    if (enough(middle)) high = middle;
    else low = middle;
  }
  return high;
}
