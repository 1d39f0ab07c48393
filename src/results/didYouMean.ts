/**
 * The end of a message about a name that is not there: the names that are nearest to it, then all of them (the
 * first of them).
 *
 * @param name what was given
 * @param known what there is
 * @param most how many of them are shown
 */
export function didYouMean(name: string, known: readonly string[], most = 12): string {
  const near = nearest(name, known);
  const shown = known.slice(0, most).map((one) => `"${one}"`);
  const more = known.length > most ? `, and ${known.length - most} more` : "";
  const list = known.length === 0 ? "there is none" : `there are ${shown.join(", ")}${more}`;
  return near.length === 0
    ? list
    : `did you mean ${near.map((one) => `"${one}"`).join(" or ")}? ${list}`;
}

/** Up to two known names at an edit distance of a third of the name at most, capitals and signs apart. */
export function nearest(name: string, known: readonly string[]): string[] {
  const plain = (text: string) => text.toLowerCase().replace(/[^\p{L}\p{N}]+/gu, "");
  const wanted = plain(name);
  const most = Math.max(1, Math.floor(wanted.length / 3));
  return known
    .map((one) => ({ one, distance: distanceTo(plain(one)) }))
    .filter(({ one, distance }) => one !== name && distance <= most)
    .sort((first, second) => first.distance - second.distance)
    .slice(0, 2)
    .map(({ one }) => one);

  /** A name cut short, such as sph for sphere, is near as well. */
  function distanceTo(one: string): number {
    const [short, long] = one.length < wanted.length ? [one, wanted] : [wanted, one];
    return short.length >= 3 && long.startsWith(short) ? most : editDistance(wanted, one);
  }
}

/** Letters to add, take away or change (Levenshtein 1966). */
function editDistance(one: string, other: string): number {
  let row = Array.from({ length: other.length + 1 }, (_, at) => at);
  for (let i = 1; i <= one.length; i++) {
    const next = [i];
    for (let j = 1; j <= other.length; j++) {
      const change = row[j - 1] + (one[i - 1] === other[j - 1] ? 0 : 1);
      next.push(Math.min(change, row[j] + 1, next[j - 1] + 1));
    }
    row = next;
  }
  return row[other.length];
}
