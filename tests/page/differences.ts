/** Where two results differ: numbers with their distance, relative where they are above 1; all else at once. */
export function differencesBetween(one: unknown, other: unknown) {
  const others: string[] = [];
  const numbers: { readonly path: string; readonly distance: number }[] = [];
  let count = 0;
  const walk = (a: unknown, b: unknown, path: string) => {
    if (typeof a === "number" && typeof b === "number") {
      count++;
      if (a === b) return;
      // a count must be the same count
      if (Number.isInteger(a) && Number.isInteger(b)) others.push(`${path}: ${a}, ${b}`);
      numbers.push({ path, distance: Math.abs(a - b) / Math.max(1, Math.abs(a)) });
    } else if (typeof a === "object" && typeof b === "object" && a !== null && b !== null) {
      const members = a as Record<string, unknown>;
      const counterparts = b as Record<string, unknown>;
      for (const key of new Set([...Object.keys(a), ...Object.keys(b)])) {
        walk(members[key], counterparts[key], `${path}.${key}`);
      }
    } else if (a !== b) others.push(`${path}: ${a}, ${b}`);
  };
  walk(one, other, "");
  return { count, others, numbers: numbers.sort((a, b) => b.distance - a.distance) };
}
